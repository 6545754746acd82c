/**
 * What a person reads in place of a word of the wire: every key and every choice of a result, once. A page, a picture and
 * an embed show nothing that is not here; a test walks every result for words without a label.
 */

/** `parent/key` goes before `key`. */
export const labels: Readonly<Record<string, string>> = {
  // parts
  whorls: 'Flyer, whorl by whorl', bobbins: 'Bobbins', pairs: 'Whorl and bobbin together', counts: 'Counted turns', wanted: 'What you want',
  name: 'Name', whorl: 'Whorl', bobbin: 'Bobbin', groove: 'Groove',
  // ratio
  flyerRatio: 'Flyer turns for one wheel turn', bobbinRatio: 'Bobbin turns for one wheel turn', bareRatio: 'The same with no band thickness',
  flyerSpeed: 'Flyer speed', bobbinSpeed: 'Bobbin speed', treadlingNeeded: 'Treadling needed',
  bobbinPerFlyerTurn: 'Bobbin turns for one flyer turn', bobbinGainPerWheelTurn: 'Bobbin gains, for one wheel turn', flyerTurnsPerLap: 'Flyer turns to wind one lap', drawIn: 'What the pair does',
  counted: 'Flyer, counted', measured: 'Flyer, by the measures', agreement: 'Do they agree', slip: 'Share that slips', combined: 'Both together',
  bobbinCounted: 'Bobbin, counted', bobbinMeasured: 'Bobbin, by the measures', bobbinAgreement: 'Do they agree, bobbin', bobbinSlip: 'Share that slips, bobbin',
  'wanted/ratio': 'Ratio you want', grooveDiameter: 'Groove, across where the band sits', driveWheels: 'Drive wheel for each whorl', comparedWith: 'Beside a whorl you have', times: 'Times its size, band included',
  // twist
  solvedFor: 'Found', twist: 'Twist', ratio: 'Ratio', wheelTurns: 'Turns of the wheel', flyerTurns: 'Turns of the flyer', draftLength: 'Length drafted', draftLengthPerWheelTurn: 'Length drafted for one wheel turn',
  drawSpeed: 'Drawing speed', treadling: 'Treadling', angle: 'Twist angle', twistFactor: 'Twist factor', direction: 'Direction', consistency: 'Do the measures agree', difference: 'Difference',
  finishedTwist: 'Twist after washing', bumpsPerLength: 'Bumps along the yarn', bumps: 'Bumps', over: 'Over', twistLost: 'Twist lost', angleLost: 'Angle lost', afterUnwinding: 'Twist once unwound', nearest: 'Nearest',
  // grist
  grist: 'Grist', yarnNumbers: 'In every yarn number', diameter: 'Thickness', wraps: 'Wraps', packed: 'Pushed together', ruler: 'Side by side', loose: 'As knitters wind', categories: 'What knitters call it',
  set: 'Set of bands', category: 'Category', fibresInSection: 'Fibres across the yarn', readings: 'Grist by each way of wrapping', wrapFactor: 'Wrap factor of this yarn', plies: 'Plies', singles: 'One strand', length: 'Length', finishedLength: 'Length after washing',
  lengthLost: 'Length lost', finishedGrist: 'Grist after washing', atRegain: 'At the regain you want', mass: 'Weight', stockLength: 'Length you have', leastSample: 'Shortest sample to weigh',
  tex: 'tex', dtex: 'dtex', denier: 'Denier', metric: 'Metric, Nm', cotton: 'Cotton count', worsted: 'Worsted count', woollenRun: 'Woollen run', woollenCut: 'Woollen cut', yorkshireSkein: 'Yorkshire skein', galashielsCut: 'Galashiels cut',
  linenLea: 'Linen lea', yardsPerPound: 'Yards in a pound', metresPer100g: 'Metres in 100 g', metresPerKilogram: 'Metres in a kilogram', ouncesPer100Yards: 'Ounces in 100 yards',
  // take-up
  fill: 'How full', woundDiameter: 'Across the yarn', woundLength: 'Yarn on the bobbin', mostDrawnInPerWheelTurn: 'Most it can draw in, one wheel turn', mostDrawnInSpeed: 'Most it can draw in', leastTwist: 'Softest twist it can make', insertedTwist: 'Twist put in',
  pull: 'Pull', drawingIn: 'Drawing in', held: 'Held', pullingOff: 'Pulled off', capacity: 'What the bobbin holds',
};

/** Choices by the key they stand under, or under `*` for any. */
export const choiceLabels: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  drawIn: { 'bobbin-leads': 'the bobbin leads and draws in', 'flyer-leads': 'the flyer leads: winds on backwards', 'too-close-to-say': 'too close to say which leads' },
  '*': {
    agrees: 'yes', slip: 'no: the band slips', recheck: 'no: measure again', S: 'S', Z: 'Z', nothing: 'nothing: all was given',
    'bobbin-leads': 'the bobbin leads and draws in', 'flyer-leads': 'the flyer leads: winds on backwards', 'too-close-to-say': 'too close to say which leads',
  },
  solvedFor: { turns: 'turns' },
};

export function labelOf(key: string, parent?: string): string | undefined {
  return (parent === undefined ? undefined : labels[`${parent}/${key}`]) ?? labels[key];
}
/** What a choice says. A choice that names a key of the result is read as that key. */
export const choiceOf = (key: string, value: string): string | undefined => choiceLabels[key]?.[value] ?? choiceLabels['*']![value] ?? (key === 'solvedFor' ? labels[value] : undefined);

/** Names that people gave to their parts: shown as they are. */
export const nameKeys: readonly string[] = ['name', 'whorl', 'bobbin', 'groove', 'set', 'category'];

/** The number that was asked for: where it stands in the result (`*` for each), and what it means in one sentence. */
export interface Asked {
  readonly at: string;
  readonly label: string;
  /** `{}` is the number. */
  readonly one: string;
  readonly several: string;
}
/** For each calculation the first of these that the result holds is its answer. */
export const asked: Readonly<Record<string, readonly Asked[]>> = {
  ratio: [
    { at: 'wanted/*/grooveDiameter', label: 'groove to have made', one: 'A groove {} across, where the band sits, gives the ratio you want.', several: 'Each groove is measured across, where the band sits.' },
    { at: 'whorls/*/flyerRatio', label: 'flyer ratio', one: 'For one turn of the wheel the flyer turns {} times.', several: 'Turns of the flyer for one turn of the wheel, whorl by whorl.' },
    { at: 'bobbins/*/bobbinRatio', label: 'bobbin ratio', one: 'For one turn of the wheel the bobbin turns {} times.', several: 'Turns of the bobbin for one turn of the wheel, groove by groove.' },
    { at: 'flyerSpeed', label: 'flyer speed', one: 'The flyer makes {}.', several: '' },
    { at: 'counts/*/counted', label: 'counted ratio', one: 'For one turn of the wheel the flyer turned {} times.', several: 'Turns of the flyer for one turn of the wheel, count by count.' },
    { at: 'counts/*/bobbinCounted', label: 'counted ratio of the bobbin', one: 'For one turn of the wheel the bobbin turned {} times.', several: 'Turns of the bobbin for one turn of the wheel, count by count.' },
  ],
  grist: [{ at: 'grist', label: 'grist', one: 'The yarn is {}.', several: '' }],
};
/** Said after the answer where it holds once only: what it means for the spinner. */
export const alsoSaid: Readonly<Record<string, readonly { readonly at: string; readonly says: Readonly<Record<string, string>> | string }[]>> = {
  ratio: [
    { at: 'whorls/*/flyerSpeed', says: 'At this treadling the flyer makes {}.' },
    { at: 'bobbins/*/bobbinSpeed', says: 'At this treadling the bobbin makes {}.' },
    { at: 'pairs/*/drawIn', says: {
      'bobbin-leads': 'The bobbin turns faster than the flyer, so it leads and draws the yarn in.',
      'flyer-leads': 'The flyer turns faster than the bobbin, so the yarn winds on backwards, weakly.',
      'too-close-to-say': 'Flyer and bobbin turn so nearly alike that it cannot be said which leads.',
    } },
  ],
};
