import type { Assumption, Caution, Warning } from '../../foundation/notes.js';

export const frictionTaken: Assumption = { code: 'band-friction-taken', text: 'How the band grips was not measured; what is usual for its stuff on wood was taken, as a range.', range: 'cotton and linen 0.2 to 0.4, urethane 0.45 to 0.8', effect: 'Half to twice the band tension. A bag test makes it needless.' };
export const grooveShapes: Assumption = { code: 'groove-shapes-taken', text: 'Where a groove’s shape was not said, the whorl was taken as a V of 60° and the bobbin groove as round, held to 60° on each side.', range: 'V 40° to 90°', effect: 'A whorl’s grip from 0.88 down to 0.42 of the band’s tension.' };
export const distanceTaken: Assumption = { code: 'axle-to-flyer-taken', text: 'The distance from wheel axle to flyer was taken as half the wheel and 140 to 300 mm more.', range: 'half the wheel + 220 ± 80 mm', effect: 'Grip by 9 %.' };
export const dragTaken: Assumption = { code: 'flyer-drag-taken', text: 'The drag of the flyer’s bearings and the air was taken as 1 to 12 mN·m.', range: 'leather when dry 10', effect: 'The lower edge of the window, and what you feel at the treadle.' };
export const spindleTaken: Assumption = { code: 'bobbin-on-shaft-taken', text: 'The bobbin’s friction on its shaft was taken as 0.1 to 1 mN·m.', range: 'to 2 on a full bobbin', effect: 'A binding bobbin draws in weakly when it is full.' };
export const hooksTaken: Assumption = { code: 'hook-factor-taken', text: 'Orifice and hooks were taken to multiply a pull by 1.4 to 3.', range: 'rough or sharp ones 4', effect: 'Twice over between core and full. A bag test measures it.' };
export const pullNeededTaken: Assumption = { code: 'pull-needed-taken', text: 'A pull of 5 g at the hand was taken as enough to draw in.', range: '3 to 15 g', effect: 'The lower edge of the window.' };
export const pullBorneTaken: Assumption = { code: 'pull-borne-taken', text: 'Yarn and hand were taken to bear 60 g, as for a sock single.', range: 'lace and cotton 30 g, DK single 100, bulky 150; half to double', effect: 'The upper edge of the window. Never above what hurts.' };
export const ordinaryTension: Assumption = { code: 'band-tension-taken', text: 'To see which part gives first the band was taken at 0.2 to 0.5 N, as cotton bands run.', range: '0.1 to 2 N' };
export const cordMassTaken: Assumption = { code: 'cord-mass-taken', text: 'The cord was taken to weigh 1.5 to 3.5 g a metre.', range: '2 mm cotton 2.3', effect: 'Tension from pitch in proportion.' };
export const cordStiffnessTaken: Assumption = { code: 'cord-stiffness-taken', text: 'How far the cord stretches under the weight was not measured; 20 to 500 N was taken for its stiffness, and that its ends may slide a little or not at all.', effect: 'The slacker of the answers may be half of the tighter.' };
export const brakeTaken: Assumption = { code: 'brake-taken', text: 'The brake cord was taken to lie half a turn round with a friction of 0.15 to 0.4, the spring at one end.', effect: 'The pull of one spring differs up to threefold by the way you spin.' };
export const theory: Assumption = { code: 'two-models', text: 'A double-drive band was worked out both as one loop and as two; where they differ the answer covers both. Nobody has measured which is nearer.', effect: 'About a fifth to a quarter in the band’s tension.' };

export const closed: Warning = { code: 'window-closed', text: 'No one setting both draws in on the full bobbin and spares the yarn on the empty one. Change the setting as it fills, or open the window: the ways are listed, the strongest first.' };
export const heavyWeight: Warning = { code: 'weight-is-heavy', text: 'More than 2 g is heavy for this check: it tightens the band while it hangs, so the unloaded tension is only known roughly.' };
export const notInHearing: Warning = { code: 'pitch-below-hearing', text: 'So slow a swing is below hearing: count it from a slowed-down film.' };
export const needsTest: Warning = { code: 'not-tested', text: 'No bag test was given, so tension is only a wide range here. Make the bag test first: it replaces every guess about cord and friction.' };
export const painful: Warning = { code: 'pull-too-high', text: 'More than 9 N at the fingers is beyond what hands should bear again and again.' };

export const soreHands: Caution = { code: 'sore-hands', text: 'Sore, numb or tingling hands: stop for today. Lighten the pull, take a larger whorl, spin in shorter sittings, and ask a qualified person. This is no medical advice.' };
export const smallSteps: Caution = { code: 'three-small-steps', text: 'Tighten in small steps, and stop after three that change nothing: then something else is wrong. Slacken band and brake when the wheel is put away.' };
