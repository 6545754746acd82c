import type { Assumption, Caution, Warning } from '../../foundation/notes.js';

export const twoArms: Assumption = { code: 'two-arms', text: 'The flyer was taken to have two arms.' };
export const airTaken: Assumption = { code: 'still-air', text: 'Air was taken as still, 1.2 kg/m³, with a drag coefficient of 1.2 for arms and bar.', range: 'air that turns with the flyer lowers it; hooks and loose ends raise it', effect: 'The air’s drag in proportion.' };
export const woodTaken: Assumption = { code: 'wood-taken', text: 'The arms were taken as wood of 700 kg/m³.', range: '500 to 900', effect: 'The stress in proportion.' };
export const wrapTaken: Assumption = { code: 'wrap-taken', text: 'The band was taken to wrap a third of each groove.', range: '90° to 150°', effect: 'What the band adds to the weight.' };
export const bandAcross: Assumption = { code: 'band-across', text: 'The band was taken to pull across the flyer’s weight.', range: 'a wheel below holds the flyer down, a wheel above lifts it', effect: 'A band that pulls upward lets it hop sooner.' };
export const bearingLeather: Assumption = { code: 'bearing-taken', text: 'The bearings were taken as greased leather to clean, dry leather: friction 0.2 to 0.6.', range: 'greased bronze 0.08', effect: 'Drag in proportion: leather gone dry can outweigh everything else.' };
export const dragTaken: Assumption = { code: 'flyer-drag-3', text: 'The drag of the flyer was taken as 3 mN·m.', range: '1 to 12; dry leather 10', effect: 'The load at the wheel, times the ratio.' };
export const wheelBearingTaken: Assumption = { code: 'wheel-bearing-taken', text: 'The wheel’s own bearings were taken to drag with 5 mN·m.', range: '2 to 20' };
export const wheelTaken: Assumption = { code: 'wheel-inertia-taken', text: 'The drive wheel was taken as 0.10 kg·m².', range: '0.04 small, 0.3 at 760 mm', effect: 'The swing as one over it.' };
export const oneTreadle: Assumption = { code: 'one-treadle', text: 'One treadle was taken: one push in each turn.', effect: 'With two the swing is about a fifth.' };
export const noAir: Assumption = { code: 'coast-without-air', text: 'With one time only, all drag was taken as that of the bearings.', effect: 'Note the time at a second, lower speed, and the air’s share comes out.' };
export const sineFoot: Assumption = { code: 'half-sine-push', text: 'The foot was taken to push evenly rising and falling, and not to pull.' };

export const hops: Warning = { code: 'flyer-hops', text: 'At this speed the unbalance lifts the flyer in open bearings: it hops and hums. Move the hook or guide across from the yarn, and spread the yarn.' };
export const stressed: Warning = { code: 'arm-stress', text: 'Wood with short grain at the crook bears only a few MPa across the grain. Do not go faster; look for cracks at the crook.' };
export const dead: Warning = { code: 'swings-much', text: 'The wheel loses so much speed between pushes that it may stall at dead centre. Treadle a little faster, lighten the load, or start past dead centre.' };
export const coastUnlike: Warning = { code: 'coast-unlike', text: 'So little or so much of the drag is the air’s that these two times cannot part them.' };

export const coastSafely: Caution = { code: 'coast-safely', text: 'For a coast-down take band and yarn off, keep hair, sleeves and fingers clear, and let the flyer come to rest by itself.' };
