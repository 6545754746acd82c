/** The flat names of set-ups. */
import type { Field, FieldSet } from '../../foundation/fields.js';
import { fibreChoices } from '../../reference/fibres.js';
import { staples } from '../../reference/twists.js';
import { preparations } from '../../reference/wraps.js';
import { bobbinFields, countedField, driveField, pulleyFields, wheelQuestion } from '../../wheels/flat.js';

const letters = [{ value: 'Z', label: 'Z' }, { value: 'S', label: 'S' }];
const own: readonly Field[] = [
  { name: 'grist', kind: 'grist', label: 'Grist of the yarn that you want', hint: 'plied if it is to be plied; such as 1200 yd/lb or 2/8 worsted', first: true },
  { name: 'plies', kind: 'number', label: 'Strands in it', hint: 'left open: a single', first: true },
  { name: 'twist', kind: 'twist', label: 'Twist of each strand as it is spun', hint: 'such as 8 turns/in', first: true },
  { name: 'use', kind: 'choice', label: 'Or what it is for', hint: 'gives the twist that is usual', first: true, choices: [{ value: 'knitting', label: 'knitting' }, { value: 'sock', label: 'socks' }, { value: 'weft', label: 'weft' }, { value: 'semi-warp', label: 'warp or weft' }, { value: 'warp', label: 'warp' }] },
  { name: 'fibre', kind: 'choice', label: 'Fibre', choices: fibreChoices, first: true },
  { name: 'draftLength', kind: 'part', label: 'Length that you like to draft', hint: 'for one treadle, such as 1.5-2 in; in long draw for one make', first: true },
  { name: 'treadling', kind: 'turning', label: 'Treadling', hint: 'such as 60/min', first: true },
  { name: 'draftingStyle', kind: 'choice', label: 'How you draft', choices: [{ value: 'short-draw', label: 'short draw, so much for each treadle' }, { value: 'long-draw', label: 'long draw, makes that are wound on' }], first: true },
  { name: 'pull', kind: 'pull', label: 'Pull that you like as it draws in', hint: 'such as 8 g; left open: 5 g', first: true },
  countedField,
  { name: 'wraps', kind: 'wraps', label: 'Or its wraps, instead of the grist', hint: 'such as 14 wpi' },
  { name: 'wrapping', kind: 'choice', label: 'How the wraps were wound', choices: [{ value: 'packed', label: 'pushed together until no more go in' }, { value: 'ruler', label: 'side by side round a ruler' }, { value: 'loose', label: 'as knitters wind' }] },
  { name: 'angle', kind: 'angle', label: 'Or the angle of the twist, from the axis', hint: 'such as 22 deg' },
  { name: 'plyTwist', kind: 'twist', label: 'Twist of the ply', hint: 'left open: what balances' },
  { name: 'direction', kind: 'choice', label: 'Direction of the strands', choices: letters },
  { name: 'lengthLost', kind: 'share', label: 'Length lost in washing', hint: 'then grist and twist are those of the finished yarn; such as 9 %' },
  { name: 'preparation', kind: 'choice', label: 'Preparation', choices: preparations.map((value) => ({ value, label: value })) },
  { name: 'staple', kind: 'choice', label: 'Staple', choices: staples.map((value) => ({ value, label: value })) },
  { name: 'pullBorne', kind: 'pull', label: 'Pull that yarn and hand bear', hint: 'left open: by how thick it is, 30 to 150 g' },
  { name: 'hookFactor', kind: 'number', label: 'Orifice and hooks multiply a pull by', hint: 'left open: 1.4 to 3' },
  { name: 'bagLifts', kind: 'pull', label: 'Bag test: the heaviest bag that it lifts', hint: 'wheel turned slowly by hand' },
  { name: 'bagPullsOff', kind: 'pull', label: 'Bag test: the lightest bag that pulls yarn off', hint: 'wheel held' },
  { name: 'bagWoundDiameter', kind: 'part', label: 'Bag test: yarn on the bobbin then, across' },
  { name: 'duty', kind: 'share', label: 'Share of the hour that you really spin', hint: 'left open: 75 %' },
  { name: 'packageDensity', kind: 'density', label: 'How densely yarn lies on the bobbin', hint: 'left open: 300 kg/m3' },
  { name: 'plyDraw', kind: 'part', label: 'Length of one draw in plying', hint: 'left open: 60 cm' },
];
const names = own.map((f) => f.name);
const paths = { bagLifts: 'bagTest/lifts', bagPullsOff: 'bagTest/pullsOff', bagWoundDiameter: 'bagTest/woundDiameter' };
export const fields: FieldSet = { list: [...own, driveField, ...pulleyFields, ...bobbinFields], toQuestion: (flat) => wheelQuestion(flat, names, paths) };
