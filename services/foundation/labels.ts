/**
 * What a person reads in place of a word of the wire: every key and every choice of a result, once. A page, a picture and
 * an embed show nothing that is not here; a test walks every result for words without a label.
 */

/** `parent/key` goes before `key`. */
export const labels: Readonly<Record<string, string>> = {
  // parts
  whorls: 'Flyer, whorl by whorl', bobbins: 'Bobbins', pairs: 'Whorl and bobbin together', counts: 'Counted turns', wanted: 'What you want',
  name: 'Name', whorl: 'Whorl', bobbin: 'Bobbin', groove: 'Groove',
  // ratio
  flyerRatio: 'Flyer turns for one wheel turn', bobbinRatio: 'Bobbin turns for one wheel turn', bareRatio: 'The same with no band thickness',
  flyerSpeed: 'Flyer speed', bobbinSpeed: 'Bobbin speed', treadlingNeeded: 'Treadling needed',
  bobbinPerFlyerTurn: 'Bobbin turns for one flyer turn', bobbinGainPerWheelTurn: 'Bobbin gains, for one wheel turn', flyerTurnsPerLap: 'Flyer turns to wind one lap', drawIn: 'What the pair does',
  counted: 'Flyer, counted', measured: 'Flyer, by the measures', agreement: 'Do they agree', slip: 'Share that slips', combined: 'Both together',
  bobbinCounted: 'Bobbin, counted', bobbinMeasured: 'Bobbin, by the measures', bobbinAgreement: 'Do they agree, bobbin', bobbinSlip: 'Share that slips, bobbin',
  'wanted/ratio': 'Ratio you want', grooveDiameter: 'Groove, across where the band sits', driveWheels: 'Drive wheel for each whorl', comparedWith: 'Beside a whorl you have', times: 'Times its size, band included',
  // twist
  solvedFor: 'Found', twist: 'Twist', ratio: 'Ratio', wheelTurns: 'Turns of the wheel', flyerTurns: 'Turns of the flyer', draftLength: 'Length drafted', draftLengthPerWheelTurn: 'Length drafted for one wheel turn',
  drawSpeed: 'Drawing speed', treadling: 'Treadling', angle: 'Twist angle', twistFactor: 'Twist factor', direction: 'Direction', consistency: 'Do the measures agree', difference: 'Difference',
  finishedTwist: 'Twist after washing', bumpsPerLength: 'Bumps along the yarn', bumps: 'Bumps', over: 'Over', twistLost: 'Twist lost', angleLost: 'Angle lost', afterUnwinding: 'Twist once unwound', nearest: 'Nearest',
  texFactor: 'Twist factor, turns/m and tex', classes: 'Class of twist', 'classes/set': 'Whose classes', class: 'Class', recommended: 'What published tables recommend', use: 'For', staple: 'Staple', factor: 'Factor', factorIn: 'Counted in', within: 'Is yours within it', shortening: 'How much shorter twist makes it', by: 'By', shorter: 'Shorter by', untwistedGrist: 'Before twisting', untwistedLength: 'Length before twisting', greatestTwist: 'The most twist it could take', 'yorkshire-skein': 'Yorkshire skein', 'galashiels-cut': 'Galashiels cut',
  'tex-cm': 'tex and turns/cm', 'tex-10cm': 'tex and turns/10 cm', run: 'Woollen run', lea: 'Linen lea or woollen cut',
  // grist
  grist: 'Grist', yarnNumbers: 'In every yarn number', diameter: 'Thickness', wraps: 'Wraps', packed: 'Pushed together', ruler: 'Side by side', loose: 'As knitters wind', categories: 'What knitters call it',
  set: 'Set of bands', category: 'Category', fibresInSection: 'Fibres across the yarn', readings: 'Grist by each way of wrapping', wrapFactor: 'Wrap factor of this yarn', plies: 'Plies', singles: 'One strand', length: 'Length', finishedLength: 'Length after washing',
  lengthLost: 'Length lost', finishedGrist: 'Grist after washing', atRegain: 'At the regain you want', mass: 'Weight', stockLength: 'Length you have', leastSample: 'Shortest sample to weigh',
  singlesWraps: 'Wraps of one strand', sameWrapping: 'If strands keep their shape', byRule: 'By the rule of spinners', fibreDiameter: 'Thickness of the fibre', fibreGrist: 'One fibre', limitIrregularity: 'Most even it can be (CV)', irregularityIndex: 'Times that, as measured', woolGrades: 'Wool grade', grade: 'Grade', blood: 'Blood', finestYarns: 'Finest yarn', fibres: 'Fibres across', strength: 'Strength', tenacity: 'For its grist', mean: 'Breaks at', weakPlaces: 'Weak places break at', fibresAlone: 'Its fibres alone',
  packing: 'How it is packed', yarnDensity: 'Density, air and all', fibreShare: 'Of it is fibre', measuringPull: 'Measure it under a pull of', states: 'Its three states', 'states/state': 'State', repeats: 'Several measurements', count: 'How many', spread: 'Spread (CV)', standardError: 'Standard error', halfWidth: '± of the mean', needed: 'Needed for what you want',
  moisture: 'Moisture', regain: 'Regain', moistureContent: 'Moisture content', regainWanted: 'Regain wanted', moistureContentWanted: 'As moisture content', asbestosCut: 'Asbestos or glass cut',
  tex: 'tex', dtex: 'dtex', denier: 'Denier', metric: 'Metric, Nm', cotton: 'Cotton count', worsted: 'Worsted count', woollenRun: 'Woollen run', woollenCut: 'Woollen cut', yorkshireSkein: 'Yorkshire skein', galashielsCut: 'Galashiels cut',
  linenLea: 'Linen lea', yardsPerPound: 'Yards in a pound', metresPer100g: 'Metres in 100 g', metresPerKilogram: 'Metres in a kilogram', ouncesPer100Yards: 'Ounces in 100 yards', yardsPerOunce: 'Yards in an ounce', westOfEnglandSnap: 'West of England snap', frenchCount: 'French count', juteCount: 'Jute count', grainsPer120Yards: 'Grains in 120 yards',
  // take-up
  fill: 'How full', woundDiameter: 'Across the yarn', woundLength: 'Yarn on the bobbin', mostDrawnInPerWheelTurn: 'Most it can draw in, one wheel turn', mostDrawnInSpeed: 'Most it can draw in', leastTwist: 'Softest twist it can make', insertedTwist: 'Twist put in',
  flyerTurnsPerWheelTurn: 'Flyer turns for one wheel turn', bobbinTurnsPerWheelTurn: 'Bobbin turns for one wheel turn', wound: 'With the yarn that is on it now', reachesTwistFrom: 'Reaches the twist you want from',
  pull: 'Pull', drawingIn: 'Drawing in', held: 'Held', pullingOff: 'Pulled off', capacity: 'What the bobbin holds',
  // drive band
  kind: 'How the band runs', bands: 'Band, pair by pair', axleDistance: 'Axle to flyer', 'bands/length': 'Band along its middle', insideLength: 'Tape laid inside', cuttingLength: 'Length to cut', whorlBandAboveRim: 'Band above the whorl’s rim (below it, less than 0)', bobbinBandAboveRim: 'Band above the bobbin groove’s rim (below it, less than 0)',
  cord: 'What the cord bears', greatestTension: 'Greatest tension', smallestPulley: 'Smallest pulley, across', lengthPerTravel: 'Band taken up for each mm of travel',
  wheelWrap: 'Lies round the wheel for', whorlWrap: 'Lies round the whorl for', bobbinWrap: 'Lies round the bobbin for', whorlRun: 'Free run to the whorl', bobbinRun: 'Free run to the bobbin', fleetAngles: 'How far runs go aside', wheelToBobbin: 'Wheel to bobbin', wheelToWhorl: 'Wheel to whorl',
  adjustment: 'Moving the flyer', tensionPerScrewTurn: 'One turn of the screw adds', tensionPerTravel: 'Each metre of travel adds', screwTravel: 'Travel to tighten so much', screwTurns: 'Turns of the screw for that', stretchTravel: 'Travel to take up the stretch', stretchScrewTurns: 'Turns of the screw for the stretch',
  travelFromFirst: 'Move from where the first one sits', range: 'Bands that fit', shortest: 'Shortest', longest: 'Longest', crossing: 'Where it crosses', 'crossing/run': 'Run', wheelIs: 'The wheel is',
  // tension
  windows: 'Window, pair by pair', of: 'What is set', empty: 'Empty bobbin', half: 'Half full', full: 'Full bobbin', wholeFill: 'From empty to full', least: 'Draws in from', most: 'Borne up to', state: 'Window', oneSettingServes: 'One setting serves all the way', spreadNeeded: 'Spread that one setting must span',
  spreadAllowed: 'Spread that yarn and hand allow', givesFirst: 'Slips first', bandTensionNeeded: 'Band tension needed', setting: 'Your setting, by the bag test', verdict: 'It is', slipTorque: 'Bobbin slips at', hookFactor: 'Orifice and hooks multiply a pull by', leastChange: 'Draws in from, times your setting', change: 'Middle of the window, times your setting', mostChange: 'Borne up to, times your setting', bySag: 'By the sag, the band is', byPitch: 'By the pitch, the band is', opens: 'Is that enough', pullBorne: 'Pull that it must bear',
  wheelLoad: 'Felt at the wheel', ways: 'What would open the window', way: 'Way', brake: 'Brake', torque: 'Torque', whenReversed: 'With the spin reversed', reversalFactor: 'Reversing changes it', checks: 'Checks without a gauge', check: 'Check', applies: 'On this wheel', how: 'How', tension: 'Band tension', whileLoaded: 'While the weight hangs',
  // sample
  compared: 'Measured against wanted', what: 'What', 'compared/measured': 'Measured', 'compared/wanted': 'Wanted', off: 'Off by', 'compared/direction': 'The sample is', differs: 'A real difference', nearEnough: 'Near enough', measurementsNeeded: 'Measurements that would tell', measurementsMore: 'So many more',
  toChange: 'What to change', draftFactor: 'Draw the same fibre out to, times the length', fibreFactor: 'Or let into the same draw, times the fibre', 'toChange/twist': 'Twist to aim at', turnsFactor: 'Turns for each length, times', 'toChange/treadles': 'Treadles for each draw', wholeTreadles: 'In whole treadles', 'wholeTreadles/treadles': 'Treadles for each draw', 'toChange/draftLength': 'Or the same treadles in a draw of', 'toChange/ratio': 'Or another ratio', 'toChange/whorl': 'Nearest of the other whorls', 'whorl/treadles': 'Treadles that make it right',
  asStrands: 'Or ply it as it is', 'asStrands/count': 'Strands', 'asStrands/grist': 'Plied, before take-up',
  // plan
  'wanted/length': 'Finished yarn wanted', 'wanted/mass': 'Its weight', pieces: 'How many of it', warp: 'Of it warp', weft: 'Of it weft', yarn: 'The yarn', 'yarn/grist': 'Grist, finished', strandGrist: 'One strand on the wheel', offTheWheelGrist: 'Off the wheel, before washing',
  lengths: 'Lengths', finished: 'Finished, as the pattern has it', withReserve: 'With the reserve', offTheWheel: 'Off the wheel, before washing', eachStrand: 'Each strand', allStrands: 'All strands together', fibre: 'Fibre, from the yarn back to what to have', stage: 'What', 'fibre/mass': 'Weight',
  holds: 'A bobbin holds, of one strand', holdsPlied: 'A bobbin holds, plied', fills: 'Bobbins of strands to fill', sets: 'Rounds of spinning all strands and plying them', atOnce: 'Bobbins in use at once', eachFibre: 'Fibre to weigh out for each bobbin', eachLength: 'Break each strand off at', pliedEach: 'Plied yarn from each round',
  hours: 'Hours', whileSpinning: 'Speed while spinning', overTheHour: 'Speed over the hour, pauses and all', limitedBy: 'What limits it', shareSpinning: 'Share of the hour spent spinning', spinning: 'Spinning', plying: 'Plying', handling: 'Handling: bobbins, skeins, washing', total: 'In all', sittings: 'Sittings', weeks: 'Weeks',
  stock: 'What you have', enough: 'Is it enough', likelihood: 'How likely it is enough', coversReserve: 'Enough for the reserve too', makes: 'It makes', 'makes/length': 'Finished yarn', 'makes/mass': 'Its weight', 'makes/pieces': 'Of what you want, so many', spare: 'Left over', short: 'Short by', 'stock/hours': 'Hours to spin all of it',
  allowances: 'Every allowance', allowance: 'For', amount: 'How much', basis: 'Whose figure',
  // set-ups
  wheel: 'Wheel', wheelId: 'Wheel in the library', drive: 'Run as', strandTwist: 'Twist of each strand', pliedGrist: 'Grist of the plied yarn', setups: 'Set-up', considered: 'Set-ups looked at', fitting: 'Of them within every limit', stands: 'It stands', binds: 'Nearest limit', room: 'Room to it, times', 'limits/room': 'Room to it, times', lengthPerHour: 'Made in an hour, pauses and all', massPerHour: 'That weighs',
  handCheck: 'Check by hand, at every fill', lifts: 'It lifts a bag of', pullsOff: 'Yarn is pulled off by a bag of', limits: 'Every limit', limit: 'Limit', 'limits/holds': 'Within it', to: 'To', ply: 'Then ply it', blocked: 'Not to be run', toMake: 'To have made', leftOut: 'Left out', why: 'Why', more: 'Wheels that did not go on the sheet', 'toMake/grooveDiameter': 'Groove, across where the band sits', condition: 'Condition', 'setups/change': 'What would make it fit', 'change/change': 'Change', 'setups/treadling': 'At this treadling', 'setups/draftLengthPerWheelTurn': 'Draft for each turn of the wheel', 'setups/draftLength': 'One make', 'setups/wheelTurns': 'Turns of the wheel for a make',
  'ply/draftLength': 'One draw', 'ply/wheelTurns': 'Turns of the wheel for a draw', 'ply/holds': 'The bobbin holds', 'ply/direction': 'Direction', 'fill/least': 'Set from', 'fill/most': 'Set to', 'fill/state': 'Setting',
  // ply
  construction: 'How it is plied', plyDirection: 'Direction of the ply', treadles: 'Treadles, each foot counted', plied: 'The plied yarn', 'plied/angle': 'Angle of the strands', 'balance/plied': 'Ply twist for each turn of the singles, as plied',
  contraction: 'Length that plying takes', extra: 'The same as extra for each length of plied yarn', contractionFrom: 'That contraction is', contractions: 'Contraction, by each model', model: 'Model', strands: 'Strand by strand', twistLeft: 'Twist left in it', untwisted: 'Turned the other way', leftOver: 'Left over',
  balance: 'Where it balances', 'balance/ratio': 'Ply twist for each turn of the singles', plyTwist: 'Ply twist', singlesTwist: 'Twist of the singles', 'balance/state': 'Your ply is', rules: 'Rule by rule', rule: 'Rule', 'rules/basis': 'Where it comes from', 'rules/ratio': 'Ply over singles', plyAngle: 'Angle in the ply',
  tightest: 'The tightest ply there is', 'tightest/angle': 'Angle from the axis', crosswise: 'Angle from straight across', share: 'Plied length, of the strand’s', radius: 'Middle of a strand off the axis, in thicknesses', mostTwist: 'Most ply twist', perStrand: 'Turns in a strand as long as it is thick', perPly: 'Turns in a ply as long as a strand is thick',
  yardage: 'How much', byTheRule: 'Counted by the rule: plied length times plies', singlesLength: 'Singles in all', withEnds: 'With loops and ends', perBobbin: 'On each bobbin', singlesMass: 'Weight of the singles',
  cable: 'The cable', strandsInAll: 'Singles in it', plyTwistLeft: 'Ply twist left in it', snarl: 'To keep a single from snarling', leastTension: 'Hold it with at least', 'snarl/fibres': 'Fibres across it',
  leastTwistEmpty: 'Softest twist, empty bobbin', leastTwistFull: 'Softest twist, full bobbin', reach: 'Can it ply so softly', rooms: 'Room on the bobbin', 'rooms/holds': 'It holds', fits: 'The plied yarn fits',
  // draft cycle
  'slack/most': 'Most slack', 'slack/at': 'Reached after', 'slack/share': 'Slack for this part of the time', spells: 'Times that it went slack', slack: 'Slack', grab: 'The hardest grab', 'grab/difference': 'Speed lost at once', 'grab/at': 'After', peakPull: 'Peak pull at the bobbin', bears: 'Does the yarn bear it', 'grab/count': 'Grabs in all',
  treadled: 'The wheel under the push of the treadle', 'treadled/slowest': 'Wheel, slowest', 'treadled/fastest': 'Wheel, fastest', atEnd: 'Wheel, at the end', stoppedAfter: 'It stands after', spent: 'Where the work of the treadle went', 'spent/treadle': 'Work of the treadle', 'spent/slip': 'To slipping', 'spent/drag': 'To the flyer’s drag', 'spent/bearing': 'To the wheel’s bearings', 'spent/spindle': 'To the bobbin on its shaft', 'spent/yarn': 'To the yarn and its grabs', 'spent/wheel': 'Kept by what turns (less than 0: given up)',
  // flyer and treadle
  speed: 'Speed of the flyer', drag: 'Drag of the flyer', bearing: 'Bearings', air: 'Air', whole: 'Together', power: 'Power', hop: 'Hopping', 'hop/speed': 'It hops from', restLoad: 'At rest there lie on the bearings', 'hop/state': 'At this speed', arm: 'Arms', stress: 'Bending at the root', 'arm/state': 'For wood that is', coast: 'Coasting down', atThousand: 'Both together at 1000 a minute',
  treadle: 'At the treadle', load: 'Load at the wheel', slackLoad: 'The same, yarn slack', footForce: 'The foot pushes with, on average', workPerTurn: 'Work in one turn', peakPush: 'Greatest push, at the crank', turning: 'All that turns together', swing: 'Slowest to fastest, of the mean', made: 'Yarn made',
  because: 'Because', 'pull/least': 'Least, at the bobbin', 'pull/most': 'Most, at the bobbin', leastAtHand: 'Least, at the hand', mostAtHand: 'Most, at the hand', follows: 'How it follows', quickening: 'Speed that the draw-in gains in a second', ceiling: 'Fastest that it can draw in', timeToCeiling: 'From rest to its fastest', massFelt: 'What the yarn pulls along weighs as', handQuickening: 'Speed that the hand gains in a second', handSpeed: 'Hand at full speed',
  'twist/mean': 'On average', 'twist/first': 'Least, the first to go on', 'twist/last': 'Most, the last to go on', inHand: 'In the yarn not yet wound on', along: 'Twist along the make', 'along/share': 'Part of the make', 'snarl/certain': 'Below this pull a loop is certain', 'snarl/possible': 'Below this pull a loop is possible', 'snarl/state': 'Does it snarl', drawnIn: 'Yarn wound on', quickestAt: 'It follows best with yarn on it, across',
  turns: 'Where the turns went', 'turns/flyer': 'Turns of what the band drives', 'turns/in': 'Turns put in', woundOn: 'Wound on', stored: 'Still in the free yarn', overBobbin: 'From the empty bobbin to the full one', 'overBobbin/held': 'Pull, yarn held', 'overBobbin/slack': 'Most slack', 'overBobbin/difference': 'Hardest grab: speed lost at once',
  events: 'What happened', event: 'What', time: 'After', 'events/difference': 'Speed lost at once', audits: 'What the balances miss', 'audits/turns': 'Turns', 'audits/length': 'Length', energy: 'Energy', series: 'Moment by moment', columns: 'Columns', unit: 'Unit', rows: 'Rows',
  // diagnosis
  '/verdict': 'What can be said', doFirst: 'First of all', causes: 'It may be', id: 'Code', fit: 'How well it fits', cautions: 'Take care', 'causes/why': 'Why', checkFirst: 'Look first, touching nothing', tryNext: 'Then try this one thing', quantity: 'Its number', 'causes/tension': 'With the tension', technicianOnly: 'A repairer’s work',
  explains: 'What you said goes with it', notExplained: 'What it does not explain', questions: 'Look at this, and more can be said', asks: 'Question', bits: 'Tells, in bits', ifYes: 'If yes, most likely', ifNo: 'If no, most likely', contradictions: 'What does not go together', 'contradictions/kind': 'Between', says: 'What', look: 'Look at this', measures: 'Your numbers beside their windows',
  'measures/of': 'Number', 'quantity/of': 'Number', value: 'It is', atLeast: 'Right from', atMost: 'Right up to', found: 'Where it stands', 'measures/times': 'Times the edge', 'quantity/times': 'Times the edge',
};

/** Choices by the key they stand under, or under `*` for any. */
export const choiceLabels: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  drawIn: { 'bobbin-leads': 'the bobbin leads and draws in', 'flyer-leads': 'the flyer leads: winds on backwards', 'too-close-to-say': 'too close to say which leads' },
  '*': {
    agrees: 'yes', slip: 'no: the band slips', recheck: 'no: measure again', S: 'S', Z: 'Z', nothing: 'nothing: all was given',
    'bobbin-leads': 'the bobbin leads and draws in', 'flyer-leads': 'the flyer leads: winds on backwards', 'too-close-to-say': 'too close to say which leads',
  },
  solvedFor: { turns: 'turns' },
  by: { measured: 'as you measured', 'your-own': 'your own factor', 'ideal-helix': 'ideal helix', 'staple-yarn': 'staple yarn, J. Text. Mach. Soc. Japan', 'cotton-mill': 'cotton, mill handbook' },
  within: { yes: 'yes', no: 'no', 'in-part': 'in part' }, staple: { short: 'short', medium: 'medium', long: 'long' },
  factorIn: { tex: 'tex and turns/m', 'tex-cm': 'tex and turns/cm', 'tex-10cm': 'tex and turns/10 cm', metric: 'metric count', cotton: 'cotton count', worsted: 'worsted count', run: 'woollen run', lea: 'linen lea', 'yorkshire-skein': 'Yorkshire skein', 'galashiels-cut': 'Galashiels cut' },
  kind: { 'between-signs': 'one sign and another', 'sign-and-wheel': 'a sign and the wheel', 'sign-and-test': 'a sign and the bag test', open: 'open, round wheel and pulley', crossed: 'crossed: the flyer turns the other way', doubled: 'one long loop, twice round the wheel' },
  run: { lower: 'the lower run', upper: 'the upper run', left: 'the left run', right: 'the right run' },
  wheelIs: { right: 'to the right', left: 'to the left', below: 'below', above: 'above' },
  state: { steady: 'it runs steadily', hops: 'it hops', low: 'low', watch: 'watch the crook for cracks', 'too-much': 'too much across the grain', 'kept-straight': 'no: the pull keeps it straight', 'may-snarl': 'it may, when disturbed', snarls: 'yes', open: 'open', closed: 'closed', 'too-close-to-say': 'cannot be said', 'wheel-fresh': 'fresh from the wheel', rested: 'rested, off the bobbin', washed: 'washed and dried', 'under-plied': 'under-plied', within: 'within the range of the rules', 'over-plied': 'over-plied' },
  of: {
    'band-tension': 'the band', 'brake-torque': 'the brake', 'draws-in': 'heaviest bag that it lifts', 'pulls-off': 'lightest bag that pulls yarn off', 'bobbin-per-flyer-turn': 'bobbin turns for one flyer turn', feed: 'fed in for one wheel turn', twist: 'twist put in', 'softest-twist': 'softest twist it can make', spread: 'spread that one setting must span',
    'twist-of-a-lap': 'twist that each lap takes', 'flyer-speed': 'flyer speed', treadling: 'treadling', 'whorl-size': 'groove that the band turns, across',
  },
  found: { above: 'above its window', below: 'below its window', inside: 'inside its window', near: 'too close to say' },
  tension: { loosen: 'loosen', tighten: 'tighten, in small steps', leave: 'leave it' },
  oneSettingServes: { yes: 'yes', no: 'no', 'too-close-to-say': 'cannot be said' },
  givesFirst: { bobbin: 'the bobbin, as it should', whorl: 'the whorl: it should be the bobbin', 'too-close-to-say': 'cannot be said' },
  opens: { yes: 'yes', no: 'no', 'too-close-to-say': 'cannot be said' },
  bySag: { right: 'right', 'too-slack': 'too slack', 'too-tight': 'too tight', both: 'too slack for the full bobbin and too tight for the empty one', 'too-close-to-say': 'near an edge of the window' }, byPitch: { right: 'right', 'too-slack': 'too slack', 'too-tight': 'too tight', both: 'too slack for the full bobbin and too tight for the empty one', 'too-close-to-say': 'near an edge of the window' },
  because: { 'hand-too-quick': 'the hand speeds up more quickly than the bobbin', 'beyond-the-ceiling': 'the hand lets in faster than it can draw in', treadle: 'the wheel swings with each treadle' },
  bears: { yes: 'yes', no: 'no', 'too-close-to-say': 'cannot be said' },
  event: { 'slack-begins': 'yarn goes slack', 'at-the-ceiling': 'the draw-in is at its fastest', grab: 'the yarn snaps tight' },
  verdict: { stop: 'stop: this comes before everything else', 'stands-out': 'one cause stands out', 'look-first': 'look first: several causes fit', follows: 'it follows the hand', grabs: 'it lags, then grabs', 'falls-behind': 'it falls behind', right: 'right from empty to full', 'draws-in-too-weakly': 'too weak to draw in on the full bobbin', 'pulls-too-hard': 'too strong on the empty bobbin', both: 'too weak when full and too strong when empty', 'too-close-to-say': 'near an edge of the window' },
  way: { 'reset-as-it-fills': 'change the setting as the bobbin fills', 'smoother-hooks': 'smooth or fewer hooks, a clean orifice', 'fatter-core': 'a fatter core', 'stop-at-three-quarters': 'stop at three quarters', 'stronger-yarn': 'a yarn that bears more' },
  stage: { 'in-the-yarn': 'in the yarn itself', 'with-reserve': 'with the reserve', 'ready-to-spin': 'fibre ready to spin, samples too', 'washed-fleece': 'washed fleece', 'raw-fleece': 'raw fleece', 'as-bought': 'weighed as bought' },
  limitedBy: { twist: 'the twist: the flyer makes no more turns', draft: 'the draft: the hand gives no more for a treadle' },
  enough: { yes: 'yes', no: 'no', 'too-close-to-say': 'too close to say' },
  coversReserve: { yes: 'yes', no: 'no' },
  basis: { yours: 'yours', 'common-practice': 'common practice' },
  allowance: {
    reserve: 'reserve', 'length-lost': 'length lost in washing', 'plying-length': 'extra strand for plying', 'spinning-loss': 'fibre lost in spinning', samples: 'fibre for samples', 'preparation-yield': 'left after preparing', 'scouring-yield': 'left after washing the fleece', 'own-yield': 'left of your own fibre', moisture: 'moisture, room over bought',
    'cloth-shrinkage': 'cloth draws in and shrinks, each way', 'loom-waste': 'warp that the loom wastes', 'grist-spread': 'how far your grist may be off', duty: 'share of the hour spent spinning', 'yarn-on-the-bobbin': 'how densely one strand lies on the bobbin', 'plying-speed': 'speed of plying', 'plying-reserve': 'added to the hours of plying', 'bobbin-change': 'handling for each bobbin', 'skein-time': 'handling for each skein', sitting: 'length of a sitting',
  },
  construction: { plied: 'singles plied together', chain: 'chain ply', cable: 'cable' },
  contractionFrom: { given: 'as given', measured: 'as the grists tell', 'worked-out': 'worked out', taken: 'taken as nothing' },
  model: { lengthening: 'singles that grow longer as they lose twist', 'fixed-length': 'singles that keep their length', measured: 'as the grists tell' },
  rule: { half: 'half of the singles', mill: 'mills, two-fold', shared: 'twist shared evenly', 'equal-factor': 'equal twist factor', elastic: 'elastic rods' },
  reach: { 'all-the-way': 'yes, from empty to full', 'when-fuller': 'only once the bobbin is fuller', no: 'no', 'too-close-to-say': 'cannot be said' },
  fits: { yes: 'yes', no: 'no', 'too-close-to-say': 'cannot be said' },
  drive: { 'double-drive': 'double drive', 'flyer-lead': 'flyer-lead (Scotch tension)', 'bobbin-lead': 'bobbin-lead (Irish tension)', spindle: 'spindle or quill', electric: 'electric flyer' },
  stands: { fits: 'within every limit', 'when-fuller': 'within every limit once the bobbin is fuller', 'too-close-to-say': 'at one limit it cannot be said', 'does-not-fit': 'beyond a limit' },
  condition: { sound: 'sound', watch: 'to be watched', 'do-not-run': 'do not run' },
  limit: { 'longer-draft': 'the longest draft that you like', 'shorter-draft': 'the shortest draft that you like', 'draw-in': 'what an empty bobbin can draw in', pull: 'pull: enough to draw in, no more than is borne', orifice: 'the orifice', 'flyer-speed': 'flyer speed', 'slowest-flyer': 'the slowest the flyer runs' },
  binds: { 'longer-draft': 'the longest draft that you like', 'shorter-draft': 'the shortest draft that you like', 'draw-in': 'what an empty bobbin can draw in', pull: 'pull: enough to draw in, no more than is borne', orifice: 'the orifice', 'flyer-speed': 'flyer speed', 'slowest-flyer': 'the slowest the flyer runs' },
  holds: { yes: 'yes', no: 'no', 'too-close-to-say': 'cannot be said' },
  change: { 'draft-longer': 'draft longer, for each turn of the wheel', 'draft-shorter': 'draft shorter, for each turn of the wheel', 'other-ratio': 'a whorl of another ratio', 'whorl-to-have-made': 'or have a whorl made, across the groove', 'bobbin-groove-to-have-made': 'or have a bobbin groove made, across', 'fatter-core': 'a fatter core, or wind so far first', 'smoother-hooks': 'smoother hooks: multiply a pull by no more than', 'larger-orifice': 'an orifice at least so wide', 'treadle-slower': 'treadle slower', 'draw-faster': 'draw at least so fast', 'draw-slower': 'draw no faster than' },
  direction: { thicker: 'thicker', finer: 'finer', 'more-twist': 'more twisted', 'less-twist': 'less twisted', 'as-wanted': 'as wanted' },
  what: { grist: 'grist', wraps: 'wraps', twist: 'twist' },
  differs: { yes: 'yes', no: 'no', 'not-known': 'cannot be said yet' }, nearEnough: { yes: 'yes', no: 'no', 'too-close-to-say': 'too close to say' },
  check: { 'bag-test': 'bag test', 'hand-test': 'hand test', sag: 'sag', pitch: 'pitch', screw: 'screw' },
};

export function labelOf(key: string, parent?: string): string | undefined {
  return (parent === undefined ? undefined : labels[`${parent}/${key}`]) ?? labels[key];
}
/** What a choice says. A choice that names a key of the result is read as that key. */
export const choiceOf = (key: string, value: string): string | undefined => choiceLabels[key]?.[value] ?? choiceLabels['*']![value] ?? (key === 'solvedFor' ? labels[value] : undefined);

/** Names, of parts and of what was measured: shown as they are. */
export const nameKeys: readonly string[] = ['name', 'wheel', 'whorl', 'bobbin', 'groove', 'set', 'category', 'class', 'grade', 'blood', 'what'];

/** The number that was asked for: where it stands in the result (`*` for each), and what it means in one sentence. */
export interface Asked {
  readonly at: string;
  readonly label: string;
  /** `{}` is the number. */
  readonly one: string;
  readonly several: string;
  /** Only where this key of the result has this value. */
  readonly when?: readonly [string, string];
}
/** For each calculation the first of these that the result holds is its answer. */
export const asked: Readonly<Record<string, readonly Asked[]>> = {
  ratio: [
    { at: 'wanted/*/grooveDiameter', label: 'groove to have made', one: 'A groove {} across, where the band sits, gives the ratio you want.', several: 'Each groove is measured across, where the band sits.' },
    { at: 'whorls/*/flyerRatio', label: 'flyer ratio', one: 'For one turn of the wheel the flyer turns {} times.', several: 'Turns of the flyer for one turn of the wheel, whorl by whorl.' },
    { at: 'bobbins/*/bobbinRatio', label: 'bobbin ratio', one: 'For one turn of the wheel the bobbin turns {} times.', several: 'Turns of the bobbin for one turn of the wheel, groove by groove.' },
    { at: 'flyerSpeed', label: 'flyer speed', one: 'The flyer makes {}.', several: '' },
    { at: 'counts/*/counted', label: 'counted ratio', one: 'For one turn of the wheel the flyer turned {} times.', several: 'Turns of the flyer for one turn of the wheel, count by count.' },
    { at: 'counts/*/bobbinCounted', label: 'counted ratio of the bobbin', one: 'For one turn of the wheel the bobbin turned {} times.', several: 'Turns of the bobbin for one turn of the wheel, count by count.' },
  ],
  'take-up': [
    { at: 'pairs/*/fill/0/mostDrawnInPerWheelTurn', label: 'drawn in, empty bobbin', one: 'An empty bobbin can draw in at most {} for one turn of the wheel.', several: 'The most that each pair can draw in for one turn of the wheel, the bobbin empty.' },
    { at: 'pairs/*/fill/0/insertedTwist', label: 'twist put in', one: 'The draft puts in {}.', several: 'Twist that the draft puts in, pair by pair.' },
    { at: 'pairs/*/capacity/mass', label: 'on a full bobbin', one: 'A full bobbin holds {} of yarn.', several: 'Yarn on a full bobbin.' },
  ],
  'drive-band': [
    { at: 'bands/*/length', label: 'band length', one: 'The band is {} along its middle.', several: 'Length of the band along its middle, for each whorl or pair.' },
  ],
  flyer: [
    { at: 'treadle/footForce', label: 'push of the foot', one: 'The foot pushes with {} on average.', several: '' },
    { at: 'treadle/power', label: 'power at the treadle', one: 'Keeping it going takes {}.', several: '' },
    { at: 'drag/whole', label: 'drag of the flyer', one: 'The flyer drags with {}.', several: '' },
    { at: 'coast/bearing', label: 'drag of the bearings', one: 'The bearings drag with {}.', several: '' },
    { at: 'hop/speed', label: 'hops from', one: 'The flyer hops from {}.', several: '' },
    { at: 'arm/stress', label: 'stress in the arms', one: 'The root of an arm bears {}.', several: '' },
    { at: 'made/drawSpeed', label: 'yarn made', one: 'That makes {} of yarn.', several: '' },
    { at: 'speed', label: 'speed of the flyer', one: 'The flyer makes {}.', several: '' },
  ],
  'draft-cycle': [
    { at: 'slack/most', label: 'most slack', one: 'At most {} of yarn hangs slack.', several: '' },
  ],
  tension: [
    { at: 'windows/*/setting/change', label: 'times your setting', one: 'The middle of the window is {} times your setting.', several: 'The middle of the window, in times of your setting.' },
    { at: 'windows/*/wholeFill/least', label: 'draws in from', one: 'It draws in all the way to the full bobbin from {}.', several: 'What draws in all the way to the full bobbin, for each pair.' },
  ],
  twist: [
    { at: 'twist', when: ['solvedFor', 'twist'], label: 'twist', one: 'The yarn gets {}.', several: '' },
    { at: 'ratio', when: ['solvedFor', 'ratio'], label: 'ratio', one: 'It takes a ratio of {} to 1.', several: '' },
    { at: 'wheelTurns', when: ['solvedFor', 'wheelTurns'], label: 'turns of the wheel', one: 'It takes {} turns of the wheel for each draft.', several: '' },
    { at: 'draftLength', when: ['solvedFor', 'draftLength'], label: 'length drafted', one: 'Draft {} for these turns.', several: '' },
    { at: 'flyerTurns', when: ['solvedFor', 'flyerTurns'], label: 'turns of the flyer', one: 'It takes {} turns of the flyer.', several: '' },
    { at: 'flyerSpeed', when: ['solvedFor', 'flyerSpeed'], label: 'flyer speed', one: 'It takes {} of the flyer.', several: '' },
    { at: 'drawSpeed', when: ['solvedFor', 'drawSpeed'], label: 'drawing speed', one: 'Draw {}.', several: '' },
    { at: 'treadling', when: ['solvedFor', 'treadling'], label: 'treadling', one: 'It takes {} of the wheel.', several: '' },
    { at: 'twist', label: 'twist', one: 'The yarn has {}.', several: '' },
    { at: 'twistLost', label: 'twist lost', one: 'Setting took {} of the twist.', several: '' },
    { at: 'angle', label: 'twist angle', one: 'The fibres lie at {} to the yarn.', several: '' },
    { at: 'texFactor', label: 'twist factor', one: 'In turns per metre and tex the factor is {}.', several: '' },
    { at: 'recommended/*/twist', label: 'twist in published tables', one: 'Published tables recommend {}.', several: 'What published tables recommend.' },
    { at: 'whorls/*/twist', label: 'twist', one: 'The yarn gets {}.', several: 'Twist, whorl by whorl.' },
    { at: 'whorls/*/draftLength', label: 'length drafted', one: 'Draft {}.', several: 'Length to draft, whorl by whorl.' },
    { at: 'whorls/*/wheelTurns', label: 'turns of the wheel', one: 'It takes {} turns of the wheel.', several: 'Turns of the wheel, whorl by whorl.' },
  ],
  ply: [
    { at: 'wheelTurns', label: 'turns of the wheel', one: 'It takes {} turns of the wheel for each draw.', several: '' },
    { at: 'pairs/*/wheelTurns', label: 'turns of the wheel', one: 'It takes {} turns of the wheel for each draw.', several: 'Turns of the wheel for each draw.' },
    { at: 'yardage/withEnds', label: 'singles to spin', one: 'Spin {} of singles.', several: '' },
    { at: 'yardage/singlesLength', label: 'singles', one: 'It takes {} of singles.', several: '' },
    { at: 'balance/plyTwist', label: 'ply twist for balance', one: 'By one rule or another it balances at {}: sample and wet-test.', several: '' },
    { at: 'balance/singlesTwist', label: 'twist of the singles for balance', one: 'By one rule or another it balances on singles of {}: sample and wet-test.', several: '' },
    { at: 'plied/grist', label: 'plied grist', one: 'The plied yarn is {}.', several: '' },
    { at: 'balance/ratio', label: 'ply over singles', one: 'By one rule or another it balances at {} turns of ply for each turn of the singles.', several: '' },
    { at: 'plied/length', label: 'plied length', one: 'The plied yarn is {} long.', several: '' },
    { at: 'plied/mass', label: 'plied weight', one: 'The plied yarn weighs {}.', several: '' },
  ],
  setups: [
    { at: 'setups/0/draftLengthPerWheelTurn', label: 'to draft for each turn of the wheel', one: 'The set-up with the most room: draft {} for each turn of the wheel.', several: '' },
    { at: 'yarn/strandTwist', label: 'twist of the strand', one: 'The strand needs {}.', several: '' },
  ],
  sample: [
    { at: 'compared/*/off', label: 'off what you want', one: 'It is {} off what you want.', several: 'How far each measure is off what you want.' },
  ],
  diagnosis: [{ at: 'causes/*/fit', label: 'fits', one: 'Of all that fits, this one fits {}.', several: 'The likeliest first. The shares are a help in looking, not a measurement.' }],
  grist: [{ at: 'grist', label: 'grist', one: 'The yarn is {}.', several: '' }],
  plan: [
    { at: 'fibre/-1/mass', label: 'of fibre to have', one: 'Have {} of fibre, reserve, losses and samples in it.', several: '' },
    { at: 'lengths/allStrands', label: 'of strand to spin', one: 'Spin {} of strand.', several: '' },
    { at: 'lengths/offTheWheel', label: 'of yarn off the wheel', one: 'Make {} of yarn.', several: '' },
  ],
};
/** Said after the answer where it holds once only: what it means for the spinner. */
export const alsoSaid: Readonly<Record<string, readonly { readonly at: string; readonly says: Readonly<Record<string, string>> | string }[]>> = {
  flyer: [
    { at: 'treadle/swing', says: 'From slowest to fastest the wheel swings by {}.' },
    { at: 'hop/state', says: { steady: 'It runs steadily at this speed.', hops: 'It hops at this speed.', 'too-close-to-say': 'Whether it hops at this speed cannot be said.' } },
    { at: 'hop/speed', says: 'It hops from {}.' },
    { at: 'arm/state', says: { low: 'Its arms are stressed little.', watch: 'Watch the crook of its arms for cracks.', 'too-much': 'That is too much for short grain at the crook: do not run it so fast.' } },
  ],
  'draft-cycle': [
    { at: 'verdict', says: { follows: 'The bobbin follows the hand.', grabs: 'The bobbin lags behind the hand, and then the yarn is snatched tight.', 'falls-behind': 'The bobbin cannot keep up, and yarn piles up before the orifice.', 'too-close-to-say': 'Whether the bobbin follows the hand cannot be said from what is known.' } },
    { at: 'because', says: { 'hand-too-quick': 'The hand speeds up more quickly than the bobbin can: let it start more gently.', 'beyond-the-ceiling': 'The hand lets in faster than this pair can draw in at this treadling.', treadle: 'The hand is not to blame: the wheel swings with each treadle.' } },
    { at: 'grab/difference', says: 'The hardest grab takes {} off it at once.' },
    { at: 'grab/peakPull', says: 'It peaks at {} on the yarn.' },
    { at: 'twist/mean', says: 'The yarn wound on has {} on average.' },
  ],
  diagnosis: [{ at: 'verdict', says: { stop: 'Stop the wheel. Everything else waits until somebody qualified has looked at this.', 'stands-out': 'One cause stands out.', 'look-first': 'Several causes fit alike: look before you try anything.' } }],
  'take-up': [
    { at: 'pairs/*/fill/0/leastTwist', says: 'The softest twist that it can make then is {}.' },
    { at: 'pairs/*/fill/-1/mostDrawnInPerWheelTurn', says: 'When it is full it can draw in {}.' },
    { at: 'pairs/*/capacity/mass', says: 'It holds {} of yarn.' },
  ],
  setups: [
    { at: 'setups/0/stands', says: { fits: 'It stands within every limit.', 'when-fuller': 'It draws in enough only once the bobbin is fuller.', 'too-close-to-say': 'At a limit it is too close to say.', 'does-not-fit': 'It does not stand within every limit: see what to change.' } },
    { at: 'setups/0/lengthPerHour', says: 'That makes {} in an hour.' },
    { at: 'yarn/plyDirection', says: { S: 'Ply it S.', Z: 'Ply it Z.' } },
  ],
  sample: [
    { at: 'compared/*/direction', says: { thicker: 'The sample is thicker.', finer: 'The sample is finer.', 'more-twist': 'The sample has more twist.', 'less-twist': 'The sample has less twist.', 'as-wanted': 'The sample is as wanted.' } },
    { at: 'compared/*/differs', says: { yes: 'That is a real difference.', no: 'That is no more than the measurements leave open: change nothing for it yet.', 'not-known': 'Whether that is real cannot be said yet.' } },
    { at: 'compared/*/measurementsMore', says: 'So many more measurements would tell: {}.' },
    { at: 'toChange/draftFactor', says: 'Draw the same fibre out to {} times the length.' },
    { at: 'toChange/turnsFactor', says: 'Put in {} times the turns for each length.' },
  ],
  plan: [
    { at: 'lengths/allStrands', says: 'In all {} of strand are to be spun.' },
    { at: 'bobbins/eachFibre', says: 'Weigh out {} for each bobbin, and the strands end together.' },
    { at: 'hours/total', says: 'It takes {}, plying and handling in it.' },
    { at: 'stock/enough', says: { yes: 'What you have is enough.', no: 'What you have is not enough.', 'too-close-to-say': 'Whether what you have is enough is too close to say.' } },
    { at: 'stock/likelihood', says: 'The likelihood that it is enough without the reserve is {}.' },
  ],
  ply: [
    { at: 'plyDirection', says: { S: 'Ply it S.', Z: 'Ply it Z.' } },
    { at: 'balance/state', says: { 'under-plied': 'That is less ply twist than any rule asks.', within: 'That lies within what the rules ask.', 'over-plied': 'That is more ply twist than any rule asks.', 'too-close-to-say': 'That lies at an edge of what the rules ask.' } },
    { at: 'strands/*/twistLeft', says: 'Each strand keeps {}.' },
    { at: 'cable/direction', says: { S: 'Cable it S.', Z: 'Cable it Z.' } },
  ],
  grist: [{ at: 'yarnNumbers/yardsPerPound', says: 'That is {} yards in a pound.' }, { at: 'yarnNumbers/metresPer100g', says: 'It is {} metres in 100 g.' }],
  ratio: [
    { at: 'whorls/*/flyerSpeed', says: 'At this treadling the flyer makes {}.' },
    { at: 'bobbins/*/bobbinSpeed', says: 'At this treadling the bobbin makes {}.' },
    { at: 'pairs/*/drawIn', says: {
      'bobbin-leads': 'The bobbin turns faster than the flyer, so it leads and draws the yarn in.',
      'flyer-leads': 'The flyer turns faster than the bobbin, so the yarn winds on backwards, weakly.',
      'too-close-to-say': 'Flyer and bobbin turn so nearly alike that it cannot be said which leads.',
    } },
  ],
};
