/** The three states in which a yarn is measured. */
export const yarnStates = ['wheel-fresh', 'rested', 'washed'] as const;
export type YarnState = (typeof yarnStates)[number];
const said: Readonly<Record<YarnState, string>> = { 'wheel-fresh': 'fresh from the wheel', rested: 'rested, off the bobbin', washed: 'washed and dried' };
export const stateChoices = yarnStates.map((value) => ({ value, label: said[value] }));
