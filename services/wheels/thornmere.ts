/** The invented wheels of the invented Thornmere Guild: one of every kind that the service knows, of sizes that real ones have. */
import type { Wheel } from './profile.js';

export const guild = { id: 'thornmere-guild', name: 'Thornmere Guild' } as const;

const cotton = (thickness: string) => ({ thickness, material: 'cotton' as const });

export const wheels: Readonly<Record<string, Wheel>> = {
  'thornmere-1': {
    name: 'Thornmere 1', style: 'saxony', driveWheel: { grooveDiameter: '460 mm', shape: 'round' },
    modes: [{ drive: 'double-drive', band: cotton('2 mm') }],
    whorls: [{ name: 'small', grooveDiameter: '52 mm', thread: 'left-hand' }, { name: 'large', grooveDiameter: '66 mm', thread: 'left-hand' }],
    bobbins: [{ name: 'plain', grooves: [{ grooveDiameter: '43 mm' }], coreDiameter: '20 mm', endDiameter: '70 mm', lengthBetweenEnds: '82 mm', mass: '62 g' }],
    axleToFlyer: { nearest: '520 mm', farthest: '545 mm' }, wheelIs: 'right', turnedBy: 'one-treadle', condition: 'sound',
  },
  'thornmere-4': {
    name: 'Thornmere 4', style: 'saxony', driveWheel: { grooveDiameter: '560 mm' },
    modes: [{ drive: 'double-drive', band: cotton('2 mm') }],
    whorls: [{ name: 'small', grooveDiameter: '60 mm', thread: 'left-hand' }, { name: 'large', grooveDiameter: '75 mm', thread: 'left-hand' }],
    bobbins: [{ name: 'plain', grooves: [{ grooveDiameter: '48 mm' }], coreDiameter: '22 mm', endDiameter: '75 mm', lengthBetweenEnds: '90 mm', mass: '78 g' }],
    axleToFlyer: { nearest: '600 mm', farthest: '630 mm' }, wheelIs: 'right', turnedBy: 'one-treadle', condition: 'sound',
  },
  'thornmere-7': {
    name: 'Thornmere 7', style: 'norwegian', driveWheel: { grooveCircumference: '2390 ± 5 mm' },
    modes: [{ drive: 'double-drive', band: { thickness: '2.5 ± 0.3 mm', material: 'linen' } }],
    whorls: [{ name: 'whorl', grooveCircumference: '188 ± 1 mm', thread: 'left-hand' }],
    bobbins: [
      { name: 'old', grooves: [{ grooveCircumference: '138 ± 1 mm' }], coreDiameter: '24 mm', endDiameter: '84 mm', lengthBetweenEnds: '100 mm', mass: '95 g' },
      { name: 'new', grooves: [{ grooveCircumference: '151 ± 1 mm' }], coreDiameter: '26 mm', endDiameter: '84 mm', lengthBetweenEnds: '100 mm', mass: '88 g' },
    ],
    axleToFlyer: { nearest: '690 mm', farthest: '725 mm' }, wheelIs: 'right', turnedBy: 'one-treadle', condition: 'sound',
  },
  'thornmere-9': {
    name: 'Thornmere 9, equal grooves', style: 'saxony', driveWheel: { grooveDiameter: '510 mm' },
    modes: [{ drive: 'double-drive', band: cotton('2 mm') }],
    whorls: [{ name: 'whorl', grooveDiameter: '55 mm', thread: 'left-hand' }],
    bobbins: [{ name: 'borrowed', grooves: [{ grooveDiameter: '55 mm' }], coreDiameter: '21 mm', endDiameter: '72 mm', lengthBetweenEnds: '86 mm' }],
    axleToFlyer: { nearest: '560 mm', farthest: '585 mm' }, wheelIs: 'right', turnedBy: 'one-treadle', condition: 'watch',
  },
  'thornmere-12': {
    name: 'Thornmere 12', style: 'modern-upright', driveWheel: { grooveDiameter: '22 in' },
    modes: [{ drive: 'flyer-lead', band: { thickness: '2.5 mm', material: 'polyester' }, brake: { on: 'bobbin', grooveDiameter: '58 mm', springs: 'one-end', springSide: 'slack' } }],
    whorls: [{ name: 'slow', grooveDiameter: '3 1/2 in', thread: 'none' }, { name: 'middle', grooveDiameter: '2 5/8 in', thread: 'none' }, { name: 'fast', grooveDiameter: '1 3/4 in', thread: 'none' }],
    bobbins: [{ name: 'bobbin', coreDiameter: '25 mm', endDiameter: '105 mm', lengthBetweenEnds: '110 mm', mass: '130 g' }],
    flyers: [{ name: 'standard', orificeDiameter: '10 mm', mass: '210 g' }],
    axleToFlyer: { nearest: '500 mm', farthest: '520 mm' }, wheelIs: 'below', turnedBy: 'two-treadles', condition: 'sound',
  },
  'thornmere-15': {
    name: 'Thornmere 15', style: 'folding', driveWheel: { grooveDiameter: '430 mm' },
    modes: [{ drive: 'bobbin-lead', band: { thickness: '3 mm', material: 'urethane' }, brake: { on: 'flyer', grooveDiameter: '40 mm', springs: 'none' } }],
    bobbins: [
      { name: 'standard', grooves: [{ name: 'large', grooveDiameter: '80 mm' }, { name: 'middle', grooveDiameter: '62 mm' }, { name: 'small', grooveDiameter: '45 mm' }], coreDiameter: '35 mm', endDiameter: '120 mm', lengthBetweenEnds: '130 mm', mass: '180 g' },
      { name: 'lace', grooves: [{ name: 'small', grooveDiameter: '38 mm' }], coreDiameter: '60 mm', endDiameter: '120 mm', lengthBetweenEnds: '130 mm', mass: '240 g' },
    ],
    axleToFlyer: { nearest: '430 mm', farthest: '440 mm' }, wheelIs: 'below', turnedBy: 'two-treadles', condition: 'sound',
  },
  'thornmere-20': {
    name: 'Thornmere 20, convertible', style: 'castle', driveWheel: { grooveDiameter: '535 mm', shape: 'v', angle: '60 deg', openingWidth: '7 mm' },
    modes: [
      { drive: 'double-drive', band: cotton('2 mm') },
      { drive: 'flyer-lead', band: cotton('2 mm'), brake: { on: 'bobbin', grooveDiameter: '64 mm', springs: 'both-ends' } },
      { drive: 'bobbin-lead', band: cotton('2 mm'), brake: { on: 'flyer', grooveDiameter: '45 mm', springs: 'none' } },
    ],
    whorls: [
      { name: 'standard large', flyer: 'standard', grooveDiameter: '76 mm' }, { name: 'standard small', flyer: 'standard', grooveDiameter: '58 mm' },
      { name: 'jumbo', flyer: 'jumbo', grooveDiameter: '92 mm' },
    ],
    bobbins: [
      { name: 'two-ended', flyer: 'standard', grooves: [{ name: 'narrow end', grooveDiameter: '46 mm' }, { name: 'wide end', grooveDiameter: '64 mm' }], coreDiameter: '24 mm', endDiameter: '90 mm', lengthBetweenEnds: '98 mm', mass: '105 g' },
      { name: 'jumbo', flyer: 'jumbo', grooves: [{ name: 'narrow end', grooveDiameter: '74 mm' }, { name: 'wide end', grooveDiameter: '86 mm' }], coreDiameter: '38 mm', endDiameter: '140 mm', lengthBetweenEnds: '150 mm', mass: '260 g' },
    ],
    flyers: [{ name: 'standard', orificeDiameter: '10 mm', mass: '190 g' }, { name: 'jumbo', orificeDiameter: '20 mm', mass: '380 g' }],
    axleToFlyer: { nearest: '540 mm', farthest: '570 mm' }, wheelIs: 'below', turnedBy: 'two-treadles', condition: 'sound',
  },
  'thornmere-castle': {
    name: 'Thornmere Castle', style: 'castle', driveWheel: { grooveDiameter: '19 1/2 in ± 1/16 in' },
    modes: [{ drive: 'flyer-lead', band: cotton('2.2 mm'), brake: { on: 'bobbin', grooveDiameter: '2 1/8 in', springs: 'one-end', springSide: 'tight' } }],
    whorls: [{ name: 'one', grooveDiameter: '2 3/4 in ± 1/32 in' }, { name: 'two', grooveDiameter: '2 1/16 in ± 1/32 in' }],
    bobbins: [{ name: 'bobbin', coreDiameter: '7/8 in', endDiameter: '3 1/4 in', lengthBetweenEnds: '3 3/4 in', mass: '3 oz' }],
    axleToFlyer: { nearest: '21 in', farthest: '22 in' }, wheelIs: 'below', turnedBy: 'one-treadle', condition: 'sound',
  },
  'thornmere-great-wheel': {
    name: 'Thornmere Great Wheel', style: 'great-wheel', driveWheel: { grooveDiameter: '1090 mm', shape: 'flat' },
    stages: [{ driven: { grooveDiameter: '44 mm' }, driving: { grooveDiameter: '92 mm' }, band: cotton('1.5 mm') }],
    modes: [{ drive: 'spindle', band: cotton('3 mm') }],
    whorls: [{ name: 'spindle', grooveDiameter: '24 mm' }],
    axleToFlyer: { nearest: '950 mm', farthest: '990 mm' }, wheelIs: 'right', turnedBy: 'hand', condition: 'sound',
  },
  'thornmere-charkha': {
    name: 'Thornmere Charkha', style: 'charkha', driveWheel: { grooveDiameter: '190 mm' },
    stages: [
      { driven: { grooveDiameter: '45 mm' }, driving: { grooveDiameter: '95 mm' }, band: cotton('1 mm') },
      { driven: { grooveDiameter: '32 mm' }, driving: { grooveDiameter: '70 mm' }, band: cotton('1 mm') },
    ],
    modes: [{ drive: 'spindle', band: cotton('1.5 mm') }],
    whorls: [{ name: 'spindle', grooveDiameter: '9 mm' }],
    turnedBy: 'hand', condition: 'sound',
  },
  'thornmere-electric': {
    name: 'Thornmere Electric', style: 'electric', modes: [{ drive: 'electric', brake: { on: 'bobbin', grooveDiameter: '52 mm', springs: 'both-ends' } }],
    bobbins: [{ name: 'bobbin', coreDiameter: '27 mm', endDiameter: '115 mm', lengthBetweenEnds: '120 mm', mass: '140 g' }],
    flyers: [{ name: 'flyer', orificeDiameter: '12 mm', mass: '240 g' }],
    turnedBy: 'motor', flyerSpeed: { slowest: '150 rpm', fastest: '1800 rpm' }, condition: 'sound',
  },
  'thornmere-stamped': {
    name: 'Thornmere Stamped', style: 'modern-upright',
    modes: [{ drive: 'flyer-lead', brake: { on: 'bobbin', springs: 'one-end' } }],
    whorls: [{ name: '6', statedRatio: '6:1' }, { name: '9', statedRatio: '9:1' }, { name: '12.5', statedRatio: '12.5:1' }, { name: '17', statedRatio: '17:1' }],
    bobbins: [{ name: 'bobbin', coreDiameter: '30 mm', endDiameter: '110 mm', lengthBetweenEnds: '105 mm' }],
    wheelIs: 'below', turnedBy: 'two-treadles', condition: 'sound',
  },
  'thornmere-band-turn': {
    name: 'Thornmere Band Turn', style: 'saxony', driveWheel: { bandTurn: '1655 ± 4 mm' },
    modes: [{ drive: 'double-drive', band: { material: 'hemp' } }],
    whorls: [{ name: 'whorl', bandTurn: '197 ± 1 mm', thread: 'left-hand' }],
    bobbins: [{ name: 'bobbin', grooves: [{ bandTurn: '157 ± 1 mm' }], coreDiameter: '23 mm', endDiameter: '76 mm', lengthBetweenEnds: '88 mm' }],
    wheelIs: 'left', turnedBy: 'one-treadle', condition: 'sound',
  },
  'thornmere-loan': {
    name: 'Thornmere Loan', style: 'folding', driveWheel: { grooveDiameter: '16-16.5 in' },
    modes: [{ drive: 'flyer-lead' }],
    whorls: [{ name: 'slow', grooveDiameter: '75 mm' }, { name: 'fast', grooveDiameter: '38 mm' }],
    bobbins: [{ name: 'bobbin', coreDiameter: '28 mm', endDiameter: '95 mm', lengthBetweenEnds: '105 mm' }],
    wheelIs: 'below', turnedBy: 'two-treadles', condition: 'sound',
  },
  'thornmere-attic': {
    name: 'Thornmere Attic, cracked hub', style: 'saxony', driveWheel: { grooveDiameter: '495 mm' },
    modes: [{ drive: 'double-drive', band: cotton('2 mm') }],
    whorls: [{ name: 'whorl', grooveDiameter: '68 mm', thread: 'left-hand' }],
    bobbins: [{ name: 'worm-eaten', grooves: [{ grooveDiameter: '54 mm' }], coreDiameter: '19 mm', endDiameter: '66 mm', lengthBetweenEnds: '74 mm' }],
    wheelIs: 'right', turnedBy: 'one-treadle', condition: 'do-not-run',
  },
};
