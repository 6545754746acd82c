/** What a person reads for the words of an answer. What is not listed is the word itself, taken apart. */
const said: Readonly<Record<string, string>> = {
  pairs: 'whorl and bobbin together',
  flyerRatio: 'flyer turns for one turn of the wheel',
  bobbinRatio: 'bobbin turns for one turn of the wheel',
  bareRatio: 'the same, with no band thickness',
  treadlingNeeded: 'treadling for the speed you want',
  bobbinPerFlyerTurn: 'bobbin turns for one turn of the flyer',
  bobbinGainPerWheelTurn: 'turns that the bobbin gains in one turn of the wheel',
  flyerTurnsPerLap: 'flyer turns for one lap on the bobbin',
  drawIn: 'which turns faster',
  'bobbin-leads': 'the bobbin: it draws in',
  'flyer-leads': 'the flyer: it winds on backwards. Is the bobbin back to front?',
  'too-close-to-say': 'too close to say',
  counts: 'what you counted',
  counted: 'flyer turns for one turn of the wheel, as counted',
  measured: 'the same, as measured',
  agreement: 'do the two agree?',
  agrees: 'yes',
  slip: 'slip',
  recheck: 'no: count and measure again',
  combined: 'both together',
  bobbinCounted: 'bobbin turns for one turn of the wheel, as counted',
  bobbinMeasured: 'the same of the bobbin, as measured',
  bobbinAgreement: 'do the two of the bobbin agree?',
  wanted: 'what you want',
  ratio: 'ratio',
  grooveDiameter: 'groove, across where the band sits',
  driveWheels: 'or a drive wheel, with the whorl you have',
  comparedWith: 'beside the whorl you have',
  times: 'times as large, groove and band together',
};

export const say = (word: string): string => said[word] ?? word.replace(/([a-z])([A-Z])/g, (_, a: string, b: string) => `${a} ${b.toLowerCase()}`).replaceAll('-', ' ');
/** As the start of a line. */
export const sayFirst = (word: string): string => say(word).replace(/^\w/, (letter) => letter.toUpperCase());
