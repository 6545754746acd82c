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
export const birge: Source = { id: 'birge-1932', title: 'The calculation of errors by the method of least squares, Physical Review 40', author: 'Birge', year: 1932, locator: 'pp. 207–227: external and internal consistency' };
export const engineeringMechanics: Source = { id: 'engineering-mechanics-33', title: 'A Textbook of Engineering Mechanics', locator: 'Example 33.3: velocity ratio with belt thickness and slip' };
export const yardAndPound: Source = { id: 'astm-d2260', title: 'ASTM D2260: conversion factors and equivalent yarn numbers', locator: 'scope and Table 1', erratum: 'Public renderings print lea = 0.1875 × run; the reciprocal is meant. Factors here are computed from the yard and the pound.' };
export const iso2060: Source = { id: 'iso-2060', title: 'ISO 2060: linear density by the skein method', locator: 'scope' };
export const taylor: Source = { id: 'taylor-6', title: 'Cotton Weaving and Designing, 6th edition', author: 'Taylor', locator: 'pp. 429, 436, 453, 458' };
export const kleinTwist: Source = { id: 'klein-twist', title: 'The Technology of Short-staple Spinning', author: 'Klein', locator: 'the twist equation; roving frame: imparting twist; winding of cops' };
export const urethane: Source = { id: 'urethane-round-cord', title: 'Round urethane cord 83A and 85A: greatest tension and smallest pulley', locator: 'table by thickness, low rate of flexing' };
export const shigley: Source = { id: 'shigley-17', title: 'Mechanical Engineering Design', author: 'Shigley', locator: 'ch. 17, eqs 17-1 and 17-2' };
export const feyrer: Source = { id: 'feyrer-ropes', title: 'Wire Ropes', author: 'Feyrer', locator: 'eq. 3.32 and Example 3.4' };
export const hamrock: Source = { id: 'hamrock-19-14', title: 'Fundamentals of Machine Elements', author: 'Hamrock et al.', locator: 'problem 19.14' };
export const frictionTables: Source = { id: 'friction-tables', title: 'Engineering tables of friction: leather on metal, dry and greasy; steel on sintered bronze', locator: 'coefficients of static and sliding friction' };
export const shannon: Source = { id: 'shannon-1948', title: 'A Mathematical Theory of Communication, Bell System Technical Journal 27', author: 'Shannon', year: 1948, locator: 'section 6: entropy' };
// ---- yarn
export const mortonHearle: Source = { id: 'morton-hearle', title: 'Physical Properties of Textile Fibres, 4th edition', author: 'Morton and Hearle', year: 2008, locator: 'Tables 5.1 and 13.1' };
export const fibreReview: Source = { id: 'bioresources-2020', title: 'Bioresources and Bioprocessing 7: review of natural fibres', year: 2020, locator: 'Tables 9 and 10' };
export const astmD1909: Source = { id: 'astm-d1909', title: 'ASTM D1909: commercial moisture regains for textile fibres', year: 2013, locator: '4.1; values as tabulated in the review of 2020' };
export const eu1007: Source = { id: 'eu-1007', title: 'Regulation (EU) No 1007/2011 on textile fibre names', year: 2011, locator: 'Annex IX' };
export const gb9994: Source = { id: 'gb-9994', title: 'GB 9994-1988: conventional moisture regains of textile fibres (near ISO/DP 6741-4)', year: 1988 };
export const nmsuGrades: Source = { id: 'nmsu-b409', title: 'Wool grades, B-409', author: 'New Mexico State University', locator: 'table of USDA grades', erratum: 'Prints 9.15 for 19.15 and 3059 for 3.59, and mixes the limits of 44s and 40s; the USDA tables are meant.' };
export const usdaGrades: Source = { id: 'usda-wool-grades', title: 'Grades of wool: tables of the United States Department of Agriculture', locator: 'mean diameter and largest standard deviation' };
export const millHandbook: Source = { id: 'mill-handbook-twist', title: 'Mill handbook notes on counts and twist', erratum: 'Untwisted count from 105 - 2.67 TM beside a contraction of 2.67 TM - 4.93: 104.93 is meant.' };
export const spinningHandbook: Source = { id: 'spinning-handbook-cn', title: 'Notes after a Chinese spinning handbook', locator: 'twist factors', erratum: 'Its formula is for turns per metre and the root of tex/1000; its numbers are for turns per 10 cm and the root of tex.' };
export const teal: Source = { id: 'teal-1995', title: 'Worsted handspinning, handout', author: 'Teal', year: 1995, locator: 'table of wraps, tex, count and twist', erratum: 'tex rounded down by up to 1 %, in the first row by 4 %.' };
export const kleinSection: Source = { id: 'klein-section', title: 'The Technology of Short-staple Spinning', author: 'Klein', locator: 'fibres in the yarn cross-section' };
// ---- ply
export const pliedContractionAbstract: Source = { id: 'jtmsj-14-115', title: 'Journal of the Textile Machinery Society of Japan 14 (3–4)', locator: 'p. 115, abstract: contraction of twisted and two-fold yarns', erratum: 'Its “log” is read as the natural logarithm, which comes within 2 % of the ideal helix at 30°.' };
export const rossWorkbook: Source = { id: 'ross-workbook', title: 'Handspinner’s Workbook', author: 'Ross', locator: 'as summarised: the twist of the ply is the sum of the twist left in its singles', erratum: 'The same summary says that plying takes out half of each single’s twist, which is another rule; both are shown.' };
export const bohrOlsen: Source = { id: 'bohr-olsen-2011', title: 'The ancient art of laying rope, EPL 93', author: 'Bohr, Olsen', year: 2011, locator: '60004: zero-twist ropes', erratum: 'A news report prints 42.5° for three strands; 42.8° is meant.' };
export const iso1139: Source = { id: 'iso-1139', title: 'ISO 1139: designation of yarns', year: 2025, locator: 'R … tex, the resultant; notation of folded yarns' };
export const neukirch: Source = { id: 'neukirch-2002', title: 'J. Mech. Phys. Solids 50, 1175: writhing instabilities of twisted rods', author: 'Neukirch, van der Heijden, Thompson', year: 2002, locator: 'jump of the infinite rod to self-contact' };
export const iso17202: Source = { id: 'iso-17202', title: 'ISO 17202:2002: twist of single spun yarns, untwist/retwist method', year: 2002, locator: 'scope' };
