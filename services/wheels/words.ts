/** The words of a wheel's profile, and the other names under which they are also read. */
export const drives = ['double-drive', 'flyer-lead', 'bobbin-lead', 'spindle', 'electric'] as const;
export type Drive = (typeof drives)[number];
export const driveAliases: Readonly<Record<string, Drive>> = {
  'scotch-tension': 'flyer-lead', scotch: 'flyer-lead', 'flyer-led': 'flyer-lead', 'irish-tension': 'bobbin-lead', irish: 'bobbin-lead', 'bobbin-led': 'bobbin-lead',
  'double-band': 'double-drive', quill: 'spindle', 'great-wheel': 'spindle', charkha: 'spindle',
};
export const driveNames: Readonly<Record<Drive, string>> = {
  'double-drive': 'Double drive', 'flyer-lead': 'Flyer-lead (Scotch tension)', 'bobbin-lead': 'Bobbin-lead (Irish tension)', spindle: 'Spindle or quill', electric: 'Electric flyer',
};
export const styles = ['saxony', 'norwegian', 'castle', 'modern-upright', 'folding', 'great-wheel', 'charkha', 'electric', 'other'] as const;
export type Style = (typeof styles)[number];
export const shapes = ['v', 'narrow-v', 'wide-v', 'round', 'flat'] as const;
export type Shape = (typeof shapes)[number];
export const shapeAliases: Readonly<Record<string, Shape>> = { 'v-groove': 'v', u: 'round' };
export const measuredAts = ['seat', 'apex', 'rim', 'flat'] as const;
export type MeasuredAt = (typeof measuredAts)[number];
export const materials = ['cotton', 'linen', 'hemp', 'polyester', 'urethane', 'leather', 'other'] as const;
export type Material = (typeof materials)[number];
export const wheelPlaces = ['right', 'left', 'below', 'above'] as const;
export type WheelIs = (typeof wheelPlaces)[number];
export const turnedBys = ['one-treadle', 'two-treadles', 'hand', 'motor'] as const;
export type TurnedBy = (typeof turnedBys)[number];
export const conditions = ['sound', 'watch', 'do-not-run'] as const;
export type Condition = (typeof conditions)[number];
