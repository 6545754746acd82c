/** Every published source once. A fact of the trade without a source is `common practice` and is not listed. */
export interface Source {
  readonly id: string;
  readonly title: string;
  readonly author?: string;
  readonly year?: number;
  /** Where in it: clause, table, equation, example. */
  readonly locator?: string;
  readonly erratum?: string;
}

export const gum: Source = { id: 'jcgm-100', title: 'Evaluation of measurement data: Guide to the expression of uncertainty in measurement', author: 'JCGM', year: 2008, locator: '4.3.7, 5.1.2, 5.2.2, 6.2' };
export const engineeringMechanics: Source = { id: 'engineering-mechanics-33', title: 'A Textbook of Engineering Mechanics', locator: 'Example 33.3: velocity ratio with belt thickness and slip' };
export const yardAndPound: Source = { id: 'astm-d2260', title: 'ASTM D2260: conversion factors and equivalent yarn numbers', locator: 'scope and Table 1', erratum: 'Public renderings print lea = 0.1875 × run; the reciprocal is meant. Factors here are computed from the yard and the pound.' };
export const iso2060: Source = { id: 'iso-2060', title: 'ISO 2060: linear density by the skein method', locator: 'scope' };
export const taylor: Source = { id: 'taylor-6', title: 'Cotton Weaving and Designing, 6th edition', author: 'Taylor', locator: 'pp. 429, 436, 453, 458' };
export const kleinTwist: Source = { id: 'klein-twist', title: 'The Technology of Short-staple Spinning', author: 'Klein', locator: 'the twist equation; roving frame: imparting twist; winding of cops' };
export const urethane: Source = { id: 'urethane-round-cord', title: 'Round urethane cord 83A and 85A: greatest tension and smallest pulley', locator: 'table by thickness, low rate of flexing' };
export const shigley: Source = { id: 'shigley-17', title: 'Mechanical Engineering Design', author: 'Shigley', locator: 'ch. 17, eqs 17-1 and 17-2' };
export const feyrer: Source = { id: 'feyrer-ropes', title: 'Wire Ropes', author: 'Feyrer', locator: 'eq. 3.32 and Example 3.4' };
export const hamrock: Source = { id: 'hamrock-19-14', title: 'Fundamentals of Machine Elements', author: 'Hamrock et al.', locator: 'problem 19.14' };
