/** Signs in spinners' words, by where one notices them; the dangerous ones first. Common practice, our wording. */

export const places = ['hands', 'yarn', 'bobbin', 'band', 'treadle', 'sound'] as const;
export type Place = (typeof places)[number];
export const placeNames: Readonly<Record<Place, string>> = {
  hands: 'In the hands', yarn: 'In the yarn', bobbin: 'At bobbin and flyer', band: 'At band and brake', treadle: 'At treadle and wheel', sound: 'By sound',
};
/** `stop`: nothing else is looked at before this is put right. `rest`: stop for today; then loosen. */
export type Danger = 'stop' | 'rest';

/** Dangerous signs, before all others. */
export const dangers = {
  'cracked-flyer': ['bobbin', 'stop', 'A crack, chip or split in the flyer or its arms'],
  'loose-hook': ['bobbin', 'stop', 'A hook is loose or coming out'],
  'cracked-wheel': ['treadle', 'stop', 'A spoke, the rim or the hub is cracked or loose'],
  'part-came-off': ['sound', 'stop', 'Something came off while it ran'],
  'motor-hot': ['sound', 'stop', 'The motor or its box gets hot or smells'],
  'bad-wire': ['treadle', 'stop', 'A wire is bare, pinched or damaged'],
  'hands-hurt': ['hands', 'rest', 'Hands or arms are sore, numb or tingle'],
} as const satisfies Readonly<Record<string, readonly [Place, Danger, string]>>;

const byPlace = {
  hands: {
    'will-not-draw-in': 'The yarn will not go in', 'draws-in-weakly': 'It draws in, but only just', yanks: 'The yarn is snatched out of my hands', 'wheel-gets-ahead': 'The wheel gets ahead of me: I cannot draft so fast',
    'jerk-at-wind-on': 'A jerk just as I let the yarn in', 'hands-drift-back': 'My hands wander away from the orifice to keep the yarn taut', 'yarn-slack': 'The yarn hangs slack before the orifice',
    'pull-pulses': 'The pull comes and goes with each treadle', 'pull-jerks': 'The pull jerks once for each turn of the flyer', 'weaker-as-it-fills': 'It draws in less and less as the bobbin fills', 'strong-since-empty': 'It pulls too hard since I put on an empty bobbin',
    'other-pull-when-reversed': 'The pull is quite another since I turn the wheel the other way', 'pull-though-slack': 'It pulls hard although brake and band are slack', 'tightening-changes-nothing': 'I tighten and tighten, and nothing changes',
    'no-draw-in-at-any-tension': 'It draws in at no tension at all', 'fibres-stand-off': 'Fibres stand off and cling to hands and clothes',
  },
  yarn: {
    snarls: 'Pigtails and coils before the orifice', 'over-twisted': 'The yarn is hard and kinks when it is slack', 'under-twisted': 'The yarn is too soft and drifts apart', breaks: 'It breaks again and again', 'thin-spots': 'Thin spots, drawn by the wheel',
    'too-thick': 'It comes out thicker than I want', 'twist-uneven': 'Twist is uneven within each draw', 'twist-drifts': 'Twist changes from the empty to the full bobbin', 'soft-impossible': 'I cannot make it soft enough on the empty bobbin',
    'twist-differs-wound-off': 'Twist is another once the yarn is wound off', 'falls-apart-as-it-turns': 'The more I treadle, the more the yarn opens', 'one-opens-one-tightens': 'In plying one strand opens and the other tightens',
    'harder-when-plied': 'Plied, it gets harder and livelier, not calmer', 'skein-squirms': 'The plied skein squirms and will not hang straight', 'strand-in-fits': 'In plying a strand comes in fits and starts', 'kate-runs-on': 'The bobbins of the kate run on and tangle',
    'dark-marks': 'Dark or greasy marks on the yarn',
  },
  bobbin: {
    snagged: 'The yarn is caught on a hook, an arm or itself', 'slub-stuck': 'A thick place or a knot sits fast in orifice or hook', 'yarn-behind-bobbin': 'Yarn is wound round the shaft behind the bobbin', 'leader-slips': 'The leader slides round the core and does not take hold',
    'turn-as-one': 'Bobbin and flyer turn as one', 'bobbin-stiff': 'The bobbin does not spin freely on its shaft', 'bobbin-no-play': 'The bobbin has no play from end to end', 'flyer-stiff': 'With the band off the flyer does not spin freely',
    'bobbin-not-driven': 'The band does not turn the bobbin', 'grooves-alike': 'Whorl and bobbin groove look the same size', 'bobbin-other': 'The bobbin is of another wheel, or was put on the other way round', 'winds-backwards': 'The yarn winds on the wrong way round',
    hilly: 'The yarn lies in hills or falls over the end', 'over-full': 'The yarn stands to the rim or touches the flyer', 'rough-hook': 'A hook or the orifice is rough, bent or worn', 'whorl-loose': 'The whorl turns on its shaft or works loose',
    'whorl-stuck': 'The whorl will not come off', 'whorl-too-far-on': 'The whorl sits further on than it used to',
  },
  band: {
    'band-slips': 'The band slips when I push the treadle', 'band-comes-off': 'The band jumps off the wheel', 'band-off-reversed': 'The band jumps off when the wheel turns the other way', 'band-wanders': 'The band wanders from side to side',
    'one-pass-slack': 'One pass of a double band is always slack', 'crosses-twice': 'The band crosses itself more than once', 'two-bands': 'There are two separate bands, not one', 'single-crossed': 'A single band is crossed', 'second-loop-on-bobbin': 'The second loop of the band still lies on the bobbin',
    'other-next-day': 'The tension is another the next day', 'screw-at-end': 'Screw or slide has no more travel', 'band-limp': 'A stretchy band hangs limp', 'band-frayed': 'The band is frayed, fluffy or glazed', 'groove-oily': 'There is oil or wax in a groove', 'not-in-line': 'The grooves of wheel and flyer are not in one line',
    'brake-off': 'The brake cord is off its groove or unhooked', 'brake-grabs': 'The brake grips and lets go', 'brake-touches-band': 'The brake cord touches the band', 'brake-felt-tight': 'Band or brake is set very tight',
  },
  treadle: {
    'hard-to-treadle': 'The wheel is hard to treadle', 'legs-tire': 'Legs or feet tire soon', stalls: 'It stops or runs back at the top of the treadle', 'starts-wrong-way': 'It starts off the wrong way', 'flyer-slow': 'The flyer never gets as fast as it should', 'flyer-fast': 'The flyer turns faster than its ratio',
    'feet-race': 'My feet race to keep up', 'wheel-wobbles': 'The wheel leans or wobbles as it turns', 'wheel-walks': 'The wheel walks away from me', 'stiff-with-band-off': 'With the band off the wheel still turns hard', 'free-with-band-off': 'With the band off the wheel spins freely', 'motor-fades': 'The motor starts well and then dies away',
  },
  sound: {
    squeaks: 'It squeaks', knocks: 'It knocks once for each turn of the wheel', thumps: 'A thump each time the knot passes', hums: 'It hums, hops or shakes at speed', chatters: 'The bobbin rattles or chatters', scrapes: 'Something rubs or scrapes', 'ticks-each-flyer-turn': 'It ticks once for each turn of the flyer',
  },
} as const satisfies Readonly<Record<Place, Readonly<Record<string, string>>>>;

type OfPlaces = typeof byPlace;
export type SignId = keyof typeof dangers | { [P in Place]: keyof OfPlaces[P] }[Place];
export interface Sign { readonly id: SignId; readonly place: Place; readonly says: string; readonly danger?: Danger }

export const signs: readonly Sign[] = [
  ...Object.entries(dangers).map(([id, [place, danger, says]]): Sign => ({ id: id as SignId, place, says, danger })),
  ...places.flatMap((place) => Object.entries(byPlace[place]).map(([id, says]): Sign => ({ id: id as SignId, place, says: says as string }))),
];
export const signIds = signs.map((s) => s.id) as unknown as readonly [SignId, ...SignId[]];
export const signOf = (id: SignId): Sign => signs.find((s) => s.id === id)!;

/** What was changed last: the first suspect. */
export const changes = { band: 'the band', bobbin: 'the bobbin', whorl: 'the whorl', oiled: 'it was oiled or waxed', moved: 'it was moved, or taken apart', mode: 'the way it is driven, such as double drive to a brake', direction: 'the direction: for plying, or back to spinning', fibre: 'the fibre or the yarn', weather: 'the weather, or it stood a while' } as const;
export type Change = keyof typeof changes;
/** How the spinner spins. */
export const habits = {
  'holds-on': 'I hold the yarn a good while before I let it in', 'lets-in-slowly': 'I let it in slowly and hold it back', 'lets-in-fast': 'I let it in fast, all at once', 'fast-feet': 'I treadle fast', 'presses-hard': 'I press hard on the treadle', 'one-hook': 'I seldom move to the next hook',
  'seldom-oils': 'I seldom oil', 'leaves-tension-on': 'I leave it tight when I stop', 'winds-off-over-the-end': 'I wind off over the end of the bobbin', plying: 'I am plying',
} as const;
export type Habit = keyof typeof habits;
export const fills = { empty: 'empty', half: 'half full', full: 'nearly full' } as const;
export type Fill = keyof typeof fills;
