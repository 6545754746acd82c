/** The flat names of a ply. One value of a single stands for all strands; several, one for each. */
import type { Field, FieldSet } from '../../foundation/fields.js';
import { fibreChoices } from '../../reference/fibres.js';
import { preparations } from '../../reference/wraps.js';
import { bobbinFields, countedField, driveField, pulleyFields, wheelQuestion } from '../../wheels/flat.js';

const ofSingles = { singlesGrist: 'grist', singlesTwist: 'twist', singlesDirection: 'direction', singlesLength: 'length', singlesMass: 'mass', singlesAngle: 'angle', singlesDiameter: 'diameter', singlesName: 'name' } as const;
const letters = [{ value: 'Z', label: 'Z' }, { value: 'S', label: 'S' }];
const byLetter = 'by the middle stroke of the letter, the yarn held upright';
const own: readonly Field[] = [
  { name: 'plies', kind: 'number', label: 'Strands plied together', hint: 'such as 2', first: true },
  { name: 'singlesGrist', kind: 'grist', label: 'Grist of the singles', hint: 'one for all alike, or one for each strand', first: true, repeats: true },
  { name: 'singlesTwist', kind: 'twist', label: 'Twist of the singles', hint: 'such as 8 turns/in', first: true, repeats: true },
  { name: 'singlesDirection', kind: 'choice', label: 'Direction of the singles', hint: byLetter, choices: letters, first: true, repeats: true },
  { name: 'plyTwist', kind: 'twist', label: 'Ply twist', hint: 'such as 5 turns/in, counted on the plied yarn', first: true },
  { name: 'plyDirection', kind: 'choice', label: 'Direction of the ply', choices: letters, first: true },
  { name: 'construction', kind: 'choice', label: 'How it is plied', first: true, choices: [{ value: 'plied', label: 'so many singles together' }, { value: 'chain', label: 'chain ply: three strands from one single' }, { value: 'cable', label: 'cable: plied yarns plied again' }] },
  { name: 'plyLength', kind: 'length', label: 'Length of the plied yarn', hint: 'what you want, or have', first: true },
  { name: 'plyGrist', kind: 'grist', label: 'Grist of the plied yarn', hint: 'such as 600 yd/lb; gives the singles back', first: true },
  { name: 'plyMass', kind: 'mass', label: 'Weight of the plied yarn' },
  { name: 'draftLength', kind: 'part', label: 'Length plied in one draw', hint: 'such as 24 in', first: true },
  { name: 'ratio', kind: 'ratio', label: 'Ratio that you ply at', hint: 'such as 6:1; on a bobbin-lead wheel that of the bobbin', first: true },
  { name: 'contraction', kind: 'share', label: 'Length that plying takes', hint: 'such as 5 %; may be less than 0' },
  { name: 'contractionOf', kind: 'choice', label: 'Of which length', choices: [{ value: 'singles', label: 'of the singles' }, { value: 'plied', label: 'extra, for each length of plied yarn' }] },
  { name: 'endsLost', kind: 'share', label: 'More for loops, ends and samples', hint: 'such as 5 %' },
  { name: 'bobbinsOfSingles', kind: 'number', label: 'Bobbins that the singles are spread over', hint: 'such as 4' },
  { name: 'singlesLength', kind: 'length', label: 'Length of a single', hint: 'gives the plied length and what is left over', repeats: true },
  { name: 'singlesMass', kind: 'mass', label: 'Weight of a single', repeats: true },
  { name: 'singlesAngle', kind: 'angle', label: 'Twist angle of the singles, from the axis', repeats: true },
  { name: 'singlesDiameter', kind: 'part', label: 'Thickness of the singles', repeats: true },
  { name: 'singlesName', kind: 'text', label: 'Name of a strand', repeats: true },
  { name: 'bumps', kind: 'number', label: 'Bumps counted along one edge of the ply' },
  { name: 'bumpsOver', kind: 'part', label: 'Over this length', hint: 'such as 1 in' },
  { name: 'cablePlies', kind: 'number', label: 'Plied yarns in the cable', hint: 'such as 2' },
  { name: 'cableTwist', kind: 'twist', label: 'Twist of the cable' },
  { name: 'cableDirection', kind: 'choice', label: 'Direction of the cable', choices: letters },
  { name: 'fibre', kind: 'choice', label: 'Fibre', choices: fibreChoices },
  { name: 'preparation', kind: 'choice', label: 'Preparation', choices: preparations.map((value) => ({ value, label: value })) },
  { name: 'yarnDensity', kind: 'density', label: 'Density of the yarn', hint: 'such as 700 kg/m3' },
  { name: 'stiffnessRatio', kind: 'number', label: 'Bending over torsional stiffness', hint: 'such as 1.3; the elastic rule' },
  { name: 'fibreDiameter', kind: 'fibre-diameter', label: 'Thickness of a fibre', hint: 'such as 21 micron; gives the tension that keeps a single from snarling' },
  { name: 'fibresInSection', kind: 'number', label: 'Fibres across a single' },
  { name: 'torque', kind: 'torque', label: 'Torque of a single, measured' },
  { name: 'wheelTurns', kind: 'number', label: 'Turns of the wheel in one draw', hint: 'when you have counted them; gives the ply twist' },
  { name: 'treadles', kind: 'number', label: 'Treadles, instead of turns of the wheel' },
  countedField,
  { name: 'woundDiameter', kind: 'part', label: 'Yarn on the bobbin, across', hint: 'bobbin-lead wheels; such as 30-110 mm' },
  { name: 'whorlName', kind: 'text', label: 'Name of the whorl', hint: 'when the wheel has several' },
  { name: 'bobbinName', kind: 'text', label: 'Name of the bobbin' },
];
const later = (f: Field): Field => { const { first, ...rest } = f; void first; return rest; };
const list: readonly Field[] = [...own, ...[driveField, ...pulleyFields, ...bobbinFields].map(later)];
const names = own.map((f) => f.name).filter((name) => !(name in ofSingles));

export const fields: FieldSet = {
  list,
  toQuestion(flat) {
    const from = wheelQuestion(flat, names, { whorlName: 'whorl', bobbinName: 'bobbin' });
    const singles: Record<string, unknown>[] = [];
    for (const [name, key] of Object.entries(ofSingles)) {
      const values = flat[name] ?? [];
      from.places.set(`/singles/0/${key}`, name);
      for (const [i, value] of values.entries()) { (singles[i] ??= {})[key] = value; from.places.set(`/singles/${i}/${key}`, name); }
    }
    // What is said once holds for every strand, except what each has of its own.
    if (singles.length > 1) for (const [name, key] of Object.entries(ofSingles)) if (flat[name]?.length === 1 && key !== 'name') for (const s of singles) s[key] = flat[name][0];
    from.places.set('/singles', 'singlesGrist');
    if (singles.length > 0) from.question['singles'] = singles.map((s) => s ?? {});
    return from;
  },
};
