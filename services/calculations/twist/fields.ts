/** The flat names of a twist. `whorlName` and `bobbinName` choose a part of a wheel that is named; `whorl` and `bobbin` are its sizes. */
import type { Field, FieldSet } from '../../foundation/fields.js';
import { fibreChoices } from '../../reference/fibres.js';
import { stateChoices } from '../../reference/states.js';
import { preparations } from '../../reference/wraps.js';
import { countedField, driveField, pulleyFields, wheelQuestion } from '../../wheels/flat.js';

const own: readonly Field[] = [
  { name: 'ratio', kind: 'ratio', label: 'Ratio', hint: 'such as 9:1; on a bobbin-lead wheel that of the bobbin', first: true },
  { name: 'wheelTurns', kind: 'number', label: 'Turns of the wheel in one draw', hint: 'one treadle is usually one turn', first: true },
  { name: 'draftLength', kind: 'part', label: 'Length drafted in those turns', hint: 'such as 3 in', first: true },
  { name: 'twist', kind: 'twist', label: 'Twist', hint: 'such as 8 turns/in; leave out the one that you want', first: true },
  { name: 'treadles', kind: 'number', label: 'Treadles, instead of turns of the wheel' },
  countedField,
  { name: 'flyerTurns', kind: 'number', label: 'Turns of the flyer, counted' },
  { name: 'treadling', kind: 'turning', label: 'Treadling', hint: 'such as 60/min' },
  { name: 'flyerSpeed', kind: 'turning', label: 'Speed of the flyer', hint: 'such as 900/min; electric spinners' },
  { name: 'drawSpeed', kind: 'speed', label: 'Yarn made in a time', hint: 'such as 5 m/min or 400 yd/h' },
  { name: 'share', kind: 'share', label: 'Share of that time spent twisting', hint: 'such as 80 %' },
  { name: 'grist', kind: 'grist', label: 'Grist', hint: 'gives the angle and the twist factor' },
  { name: 'diameter', kind: 'part', label: 'Thickness of the yarn' },
  { name: 'yarnDensity', kind: 'density', label: 'Density of the yarn', hint: 'such as 700 kg/m3' },
  { name: 'fibre', kind: 'choice', label: 'Fibre', choices: fibreChoices },
  { name: 'preparation', kind: 'choice', label: 'Preparation', choices: preparations.map((value) => ({ value, label: value })) },
  { name: 'direction', kind: 'choice', label: 'Direction', hint: 'by the middle stroke of the letter, the yarn held upright', choices: [{ value: 'Z', label: 'Z' }, { value: 'S', label: 'S' }] },
  { name: 'angle', kind: 'angle', label: 'Angle of the twist, from the yarn’s axis', hint: 'such as 20 deg' },
  { name: 'angleBefore', kind: 'angle', label: 'The angle before setting' },
  { name: 'twistFactor', kind: 'number', label: 'Twist factor' },
  { name: 'twistFactorIn', kind: 'choice', label: 'System of the twist factor', choices: [
    { value: 'tex', label: 'tex, turns per metre' }, { value: 'tex-cm', label: 'tex, turns per cm' }, { value: 'tex-10cm', label: 'tex, turns per 10 cm' }, { value: 'metric', label: 'metric count' },
    { value: 'cotton', label: 'cotton count (twist multiplier)' }, { value: 'worsted', label: 'worsted count' }, { value: 'run', label: 'woollen run' }, { value: 'lea', label: 'linen lea or woollen cut' }, { value: 'yorkshire-skein', label: 'Yorkshire skein' }, { value: 'galashiels-cut', label: 'Galashiels cut' },
  ] },
  { name: 'bumps', kind: 'number', label: 'Bumps counted along one edge' },
  { name: 'bumpsOver', kind: 'part', label: 'Over this length', hint: 'such as 1 in' },
  { name: 'plies', kind: 'number', label: 'Plies' },
  { name: 'plyBack', kind: 'twist', label: 'Twist of a fresh ply-back', hint: 'such as 6 turns/in' },
  { name: 'plyBackState', kind: 'choice', label: 'The ply-back was', choices: [{ value: 'fresh', label: 'fresh from the wheel' }, { value: 'rested', label: 'from rested yarn' }] },
  { name: 'untwistTurns', kind: 'number', label: 'Turns to untwist a piece', hint: 'until the fibres, or the plies, lie straight' },
  { name: 'retwistTurns', kind: 'number', label: 'Turns to untwist and twist it back the other way' },
  { name: 'gaugeLength', kind: 'part', label: 'Length of the piece before', hint: 'such as 25 cm' },
  { name: 'untwistedLength', kind: 'part', label: 'Its length once untwisted', hint: 'gives how much twist shortened it' },
  { name: 'use', kind: 'choice', label: 'What the yarn is for, in tables of twist', choices: [{ value: 'knitting', label: 'knitting' }, { value: 'weft', label: 'weft' }, { value: 'semi-warp', label: 'semi-warp' }, { value: 'warp', label: 'warp' }] },
  { name: 'staple', kind: 'choice', label: 'Staple', choices: [{ value: 'short', label: 'short' }, { value: 'medium', label: 'medium' }, { value: 'long', label: 'long' }] },
  { name: 'contractionFactor', kind: 'number', label: 'Your own contraction factor', hint: 'untwisted over twisted length, such as 1.06' },
  { name: 'length', kind: 'length', label: 'Length of the twisted yarn', hint: 'gives its length before twisting' },
  { name: 'state', kind: 'choice', label: 'State in which you measured', choices: stateChoices },
  { name: 'restingLost', kind: 'share', label: 'Length lost from wheel to rest', hint: 'such as 5 %' },
  { name: 'lengthLost', kind: 'share', label: 'Length lost in washing', hint: 'such as 9 %' },
  { name: 'finishedTwist', kind: 'twist', label: 'Twist wanted after washing', hint: 'such as 10 turns/in' },
  { name: 'woundDiameter', kind: 'part', label: 'Yarn on the bobbin, across', hint: 'bobbin-lead wheels and unwinding; such as 30-110 mm' },
  { name: 'unwound', kind: 'choice', label: 'How it is unwound', choices: [{ value: 'sideways', label: 'off the side, the bobbin turning' }, { value: 'over-orifice-end', label: 'over the end that faced the orifice' }, { value: 'over-far-end', label: 'over the far end' }] },
  { name: 'whorlName', kind: 'text', label: 'Name of the whorl', hint: 'when the wheel has several' },
  { name: 'bobbinName', kind: 'text', label: 'Name of the bobbin', hint: 'bobbin-lead wheels' },
];
const list: readonly Field[] = [driveField, ...own, ...pulleyFields];

const names = own.map((f) => f.name);
export const fields: FieldSet = { list, toQuestion: (flat) => wheelQuestion(flat, names, { whorlName: 'whorl', bobbinName: 'bobbin' }) };
