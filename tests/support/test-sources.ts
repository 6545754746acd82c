/** Published sources whose values are checked against, but which no answer cites. */
import type { Source } from '../../services/foundation/sources.js';

export const testSources: readonly Source[] = [
  { id: 'gb-4743', title: 'GB/T 4743-2009: linear density of yarn from packages, skein method (modifies ISO 2060:1994)', year: 2009, locator: 'Annexes D and E' },
  { id: 'textbook-conversions', title: 'Textbook conversion lists of yarn numbers' },
  { id: 'textile-conversion-table', title: 'Textile conversion table', erratum: 'Its factor for gf/den is off by 0.14 %; only the rows on linear density and twist are used.' },
  { id: 'conversion-chart', title: 'Conversion chart of yarn numbers' },
  { id: 'conversion-factors-teaching', title: 'Conversion factors for textiles, teaching notes' },
  { id: 'textile-calculations-us', title: 'Textile Calculations (United States, early twentieth century)' },
  { id: 'blanco', title: 'Piece Goods Manual', author: 'Blanco' },
  { id: 'brooks-91', title: 'Cotton Manufacturing', author: 'Brooks', locator: 'p. 91' },
  { id: 'brooks-wrapping', title: 'Cotton Manufacturing', author: 'Brooks', locator: 'Wrapping' },
  { id: 'yarn-numbering-notes', title: 'Yarn numbering and naming, teaching notes', erratum: 'Prints 25.1714 for jute by worsted; 14 400/560 = 25.714 286 is meant.' },
  { id: 'iso-2061', title: 'ISO 2061:2010: determination of twist in yarns', year: 2010, locator: 'clause 10' },
  { id: 'gate-1992', title: 'GATE Textile Engineering, worked examination questions', year: 1992 },
  { id: 'gate-2005-71', title: 'GATE Textile Engineering, worked examination questions', year: 2005 },
  { id: 'gate-2006-31', title: 'GATE Textile Engineering, worked examination questions', year: 2006 },
  { id: 'gate-2014-37', title: 'GATE Textile Engineering, worked examination questions', year: 2014 },
  { id: 'shawl-weaving', title: 'Shawl Weaving Artisan: manual' },
  { id: 'astm-d2118', title: 'ASTM D2118: commercial moisture of wool' },
  { id: 'jtr-2008-11', title: 'Journal of Textile Research (China), no. 11', year: 2008, locator: 'pp. 35-38' },
  { id: 'regain-teaching', title: 'Moisture regain and moisture content, teaching notes', erratum: 'Prints a moisture content of 7.34 for cotton; 7.83 is meant.' },
  { id: 'peirce-teaching', title: 'Diameter of cotton yarn after Peirce (1937), teaching notes' },
  { id: 'gate-2021-53', title: 'GATE Textile Engineering, worked examination questions', year: 2021 },
  { id: 'gate-2014-48', title: 'GATE Textile Engineering, worked examination questions', year: 2014 },
  { id: 'gate-2006-43', title: 'GATE Textile Engineering, worked examination questions', year: 2006, erratum: 'The worked page mistypes the tex of the fibre; its key takes 106 for cotton.' },
  { id: 'textile-handbook-2023', title: 'Textile Technical Handbook', year: 2023 },
];
