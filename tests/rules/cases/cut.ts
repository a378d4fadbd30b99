import type { Prediction, RemedyFact } from '../../../src/facts/cuts/cut-fact.ts';
import type { NearestCuts } from '../../../src/facts/evidence/near-cuts.ts';
import type { ProposalFact } from '../../../src/facts/recipes/recipe-fact.ts';
import { citedCut } from '../../cited-cuts.ts';
import type { Change } from '../build-facts.ts';
import { artworkOnly, at, cut, facts, machine, pass, prediction } from '../build-facts.ts';
import { proposal, recipe, remedy } from '../build-recipes.ts';
import { casesOf } from '../case.ts';

const predicted = (change: Change<Prediction>, remedies: RemedyFact[] = []) =>
  facts({ cuts: [cut({ prediction: prediction(change), remedies })] });
const failing = (task: string, throughProbability: number, text: string) =>
  cut({ task, prediction: prediction({ throughProbability }), remedies: [remedy(text)] });
const slow = (speed: number, aim: 'through' | 'surface' = 'through') =>
  facts({ cuts: [cut({ aim, passes: [pass({ programmedMmPerS: speed })] })] });
const passes = (n: number) => [cut({ passes: Array.from({ length: n }, () => pass()) })];

const uneven = (fewest: number, most: number) =>
  cut({ uneven: { fewest, most, shortMm: 12.5, location: at('coaster.gcode', 22) } });

const uncut = (task: string) =>
  cut({ task, passes: [], prediction: null, notPredicted: 'power or speed is not planned' });
const judgedByReach = (change: Partial<ProposalFact>) =>
  artworkOnly({
    cuts: [uncut('rim'), uncut('hole')],
    proposals: [
      proposal([uncut('rim'), uncut('hole')], {
        surest: recipe({ throughProbability: 0.06 }),
        limitedBy: [
          { kind: 'ceiling', value: 0.85 },
          { kind: 'clean-speed', value: 4 },
          { kind: 'most-passes', value: 3 },
        ],
        ...change,
      }),
    ],
  });

const published = (): NearestCuts => ({
  parted: citedCut({}),
  notParted: citedCut({
    speedMmPerS: 20,
    setting: null,
    focusMm: -2,
    use: 'test',
    outcome: 'not',
    throughProbability: 0.2,
  }),
});
const PUBLISHED_HINTS = [
  'Published: 6.0 mm parted in 1 pass at 15 mm/s, 50 % of 60 W, a daily setting (A shop, wiki); kerflint’s catalogue gives that cut 71 %.',
  'Published: 6.0 mm did not part in 1 pass at 20 mm/s, 30 W, the focus 2.0 mm below the face (A shop, wiki); kerflint’s catalogue gives that cut 20 %.',
];

export const cutCases = [
  ...casesOf('cut/out-of-reach', [
    ['accepts what the machine can do', judgedByReach({ proposed: recipe({ throughProbability: 0.93 }) }), []],
    [
      'refuses what no recipe is likely to part, with the best that is possible and what holds it back',
      judgedByReach({}),
      [
        {
          messageId: 'outOfReach',
          severity: 'error',
          says: [
            'Take a thinner sheet or a stronger source.',
            'tasks "rim", "hole"',
            '3 passes at 45.9 W (85 %), 4 mm/s, the focus 1.0 mm below the face and lowered 2.0 mm after each',
            'at best 6 % likely',
            'below 14 %',
            'the recommended maximum of 85 %, the clean speed of 4 mm/s and 3 passes at most',
          ],
          related: 1,
        },
      ],
    ],
    [
      'warns of what is likely but not sure, puts it to the proof, and names another lens',
      judgedByReach({ surest: recipe({ throughProbability: 0.8, lens: '4in' }) }),
      [
        {
          messageId: 'unsure',
          severity: 'warning',
          says: ['80 % likely', 'short of the 90 %', 'Prove the best recipe on a coupon or take', 'with the 4in lens'],
        },
      ],
    ],
    [
      'leaves no gap at its limit, and names the nearest published cuts beside the prediction',
      judgedByReach({ surest: recipe({ throughProbability: 0.14 }), published: published() }),
      [{ messageId: 'unsure', severity: 'warning', says: ['14 % likely'], hints: PUBLISHED_HINTS }],
    ],
    [
      'is an error just below its limit',
      judgedByReach({ surest: recipe({ throughProbability: 0.139 }) }),
      [{ messageId: 'outOfReach', severity: 'error', says: ['13.9 % likely', 'below 14 %'] }],
    ],
    [
      'says that the plan holds it back',
      judgedByReach({
        freed: recipe({ throughProbability: 0.93 }),
        limitedBy: [
          { kind: 'planned-power', value: 0.2 },
          { kind: 'planned-speed', value: 90 },
          { kind: 'planned-passes', value: 1 },
          { kind: 'planned-focus', value: 2 },
          { kind: 'named-lens', value: null },
        ],
      }),
      [
        {
          messageId: 'outOfReach',
          says: [
            'Leave open what the plan fixes (3 passes',
            'is 93 % likely',
            'power of 20 %',
            'speed of 90 mm/s',
            '2.0 mm above the face and the lens',
          ],
        },
      ],
    ],
    ['judges by the option', judgedByReach({}), [{ messageId: 'unsure', severity: 'warning' }], { below: 0.05 }],
    ['has nothing to judge where a toolpath has the settings', facts(), 'the toolpath has'],
    ['says why nothing was sought', artworkOnly({ cuts: [uncut('rim')] }), 'power or speed'],
  ]),
  ...casesOf('cut/proposed', [
    ['leaves what is out of reach to the other rule', judgedByReach({}), []],
    [
      'notes a recipe',
      judgedByReach({ proposed: recipe({ passes: 1, focusMm: 0, focusStepMm: 0, throughProbability: 0.93 }) }),
      [
        {
          messageId: 'proposed',
          severity: 'note',
          says: ['for tasks "rim", "hole"', 'Plan 1 pass at 45.9 W (85 %), 4 mm/s, the focus on the face: 93 % likely'],
          related: 1,
        },
      ],
    ],
    ['has nothing to judge where settings are planned', artworkOnly(), 'without settings'],
  ]),
  ...casesOf('cut/short-of-through', [
    ['accepts a likely cut', facts(), []],
    ['leaves the marginal to its own rule', predicted({ throughProbability: 0.14 }), []],
    [
      'asks more where coupons speak',
      predicted({ throughProbability: 0.499, errorLimit: 0.5, limit: 0.95, basis: 'calibrated, 9 coupons' }),
      [{ messageId: 'short', says: ['49.9 % likely', 'below 50 %', 'basis: calibrated, 9 coupons'] }],
    ],
    [
      'holds every basis to a limit that is stated',
      predicted({ throughProbability: 0.42 }),
      [{ messageId: 'short', says: ['42 % likely', 'below 50 %'] }],
      { below: 0.5 },
    ],
    [
      'names the nearest published cuts, with what the catalogue gives them',
      facts({
        cuts: [cut({ prediction: prediction({ throughProbability: 0.02 }), published: published() })],
      }),
      [{ messageId: 'short', hints: PUBLISHED_HINTS }],
    ],
    [
      'refuses a cut that falls short, with depth, range, recipe and the cheapest remedy',
      predicted({ depthMm: 4.1, depthLowMm: 3, depthHighMm: 5.3, throughProbability: 0.02 }, [
        remedy('Slow to 7.5 mm/s'),
        remedy('Make 2 passes'),
      ]),
      [
        {
          messageId: 'short',
          says: [
            'The 6.0 mm birch plywood is 2 % likely',
            'Predicted depth 4.1 mm (3.0–5.3)',
            'after 1 pass at 43.2 W, 12 mm/s',
            '2 % likely',
            'Slow to 7.5 mm/s.',
          ],
          at: 'coaster.gcode:6',
          related: 1,
        },
      ],
    ],
    [
      'does not round up to its limit',
      predicted({ throughProbability: 0.139 }),
      [{ messageId: 'short', says: ['13.9 % likely', 'below 14 %'] }],
    ],
    [
      'makes one finding of cuts with one cause, the worst in front',
      facts({
        cuts: [
          failing('rim', 0.08, 'Slow to 7.5 mm/s'),
          failing('holes', 0.05, 'Slow to 7.5 mm/s'),
          failing('holes', 0.1, 'Slow to 8 mm/s'),
          failing('tabs', 0.12, 'Make 2 passes'),
        ],
      }),
      [
        {
          messageId: 'short',
          says: ['is 5 % likely to part in tasks "holes", "rim", the worst of 3 cuts'],
          related: 3,
        },
        { messageId: 'short', says: ['is 12 % likely to part in task "tabs"'], related: 1 },
      ],
    ],
    [
      'tells thin sheets to a hundredth',
      facts({
        thicknessMm: 0.4,
        cuts: [
          cut({
            prediction: prediction({ depthMm: 0.213, depthLowMm: 0.1, depthHighMm: 0.3, throughProbability: 0.02 }),
          }),
        ],
      }),
      [{ messageId: 'short', says: ['0.21 mm (0.10–0.30)'] }],
    ],
    [
      'claims no certainty and says so when nothing helps',
      predicted({ throughProbability: 0 }),
      [{ messageId: 'short', says: ['under 1 % likely', 'No setting of this machine'] }],
    ],
    [
      'is not applicable where nothing could be predicted, and says why',
      facts({ cuts: [cut({ prediction: null, notPredicted: 'the lens is not known' })] }),
      'the lens is not known',
    ],
  ]),
  ...casesOf('cut/marginal', [
    ['accepts a cut at its limit', predicted({ throughProbability: 0.9 }), []],
    ['leaves cuts that fall short to their own rule', predicted({ throughProbability: 0.139 }), []],
    [
      'begins where the other rule ends',
      predicted({ throughProbability: 0.14 }),
      [{ messageId: 'marginal', says: ['14 % likely', 'short of 90 %'] }],
    ],
    [
      'says what the catalogue expects and what others cut, and puts it to the proof',
      facts({
        cuts: [
          cut({
            prediction: prediction({ depthMm: 2.4, depthLowMm: 1.5, depthHighMm: 3.9, throughProbability: 0.3 }),
            remedies: [remedy('Slow to 7.5 mm/s')],
            published: published(),
          }),
        ],
      }),
      [
        {
          messageId: 'marginal',
          says: [
            'Prove it on a coupon, or slow to 7.5 mm/s.',
            'The catalogue (± 40 %) expects a depth of 2.4 mm (1.5–3.9) after 1 pass at 43.2 W, 12 mm/s; others cut 6.0 mm in 1 pass at 15 mm/s with 30 W; 90 %',
          ],
          hints: PUBLISHED_HINTS,
        },
      ],
    ],
    [
      'says so where nothing but the proof is left',
      predicted({ throughProbability: 0.3 }),
      [{ messageId: 'marginal', says: ['Prove it on a coupon. No setting of this machine'] }],
    ],
    [
      'warns just below the limit',
      predicted({ throughProbability: 0.72 }),
      [
        {
          messageId: 'marginal',
          says: ['72 % likely', 'short of 90 %', 'The catalogue (± 40 %)', 'no coupon has proved'],
        },
      ],
    ],
    [
      'does not round up to the limit that it falls short of',
      predicted({ throughProbability: 0.896 }),
      [{ messageId: 'marginal', says: ['89.6 % likely', 'short of 90 %'] }],
    ],
    [
      'holds a calibrated recipe to its higher limit',
      predicted({ throughProbability: 0.93, limit: 0.95, basis: 'calibrated, 9 coupons' }),
      [{ messageId: 'calibrated', says: ['short of 95 %', 'rests on coupons (calibrated, 9 coupons)'] }],
    ],
    [
      'makes one finding of a task’s cuts',
      facts({ cuts: [failing('rim', 0.8, 'Slow'), failing('rim', 0.7, 'Slow more')] }),
      [{ messageId: 'marginal', says: ['70 % likely', 'the worst of 2 cuts'], related: 2 }],
    ],
    ['obeys its limit', predicted({ throughProbability: 0.96 }), [{ messageId: 'marginal' }], { limit: 0.98 }],
    ['is not applicable without a through cut', facts({ cuts: [] }), 'no cut has to go through'],
  ]),
  ...casesOf('cut/below-clean-speed', [
    ['accepts the floor itself', slow(4), []],
    [
      'warns below it',
      slow(2.5),
      [{ messageId: 'slow', says: ['2.5 mm/s', '4 mm/s or faster', 'birch plywood', 'CO₂'], at: 'coaster.gcode:6' }],
    ],
    ['leaves surfaces alone', slow(2, 'surface'), []],
    ['obeys its factor', slow(2.5), [], { factor: 0.5 }],
    [
      'has nothing to judge where the entry has no floor',
      facts({ machine: machine({ source: { kind: 'diode' } }) }),
      'no clean-speed floor',
    ],
  ]),
  ...casesOf('cut/too-many-passes', [
    ['accepts three passes with CO₂', facts({ cuts: passes(3) }), []],
    [
      'warns of four, once a task',
      facts({ cuts: [...passes(4), ...passes(4)] }),
      [{ messageId: 'many', says: ['4 times', 'More than 3 with a CO₂ source', '6.0 mm birch plywood'] }],
    ],
    ['accepts ten with a diode', facts({ cuts: passes(10), machine: machine({ source: { kind: 'diode' } }) }), []],
    [
      'notes eleven',
      facts({ cuts: passes(11), machine: machine({ source: { kind: 'diode' } }) }),
      [{ messageId: 'many', severity: 'note', says: ['with a diode source'] }],
    ],
    [
      'does not judge fibre sources',
      facts({ cuts: passes(40), machine: machine({ source: { kind: 'fibre' } }) }),
      'many passes',
    ],
  ]),
  ...casesOf('cut/overburn', [
    ['accepts the surplus of a good recipe', predicted({ energyRatio: 1.6 }), []],
    [
      'warns of several times the energy, once a task',
      facts({ cuts: [1, 2].map(() => cut({ prediction: prediction({ energyRatio: 5.2 }) })) }),
      [{ messageId: 'surplus', says: ['6.0 mm birch plywood 5.2 times', 'Above 4 times'] }],
    ],
    [
      'warns of corners, starts and stops at constant power',
      facts({
        cuts: [cut({ prediction: prediction({ energyRatio: 1.5 }), cornerOverburn: 6, slowestMmPerS: 2 })],
      }),
      [{ messageId: 'corners', says: ['2 mm/s', '9 times'] }],
    ],
    ['accepts corners where power follows the speed', predicted({ energyRatio: 3.9 }), []],
    ['obeys its surplus', predicted({ energyRatio: 1.6 }), [{ messageId: 'surplus' }], { surplus: 1.5 }],
    ['obeys a surplus that allows more', predicted({ energyRatio: 5.2 }), [], { surplus: 6 }],
    [
      'obeys its surplus at corners',
      facts({ cuts: [cut({ prediction: prediction({ energyRatio: 1.5 }), cornerOverburn: 6, slowestMmPerS: 2 })] }),
      [],
      { 'corner-surplus': 9 },
    ],
    [
      'obeys its surplus at corners where it allows less',
      facts({ cuts: [cut({ prediction: prediction({ energyRatio: 1.5 }), cornerOverburn: 2, slowestMmPerS: 6 })] }),
      [{ messageId: 'corners', says: ['3 times', 'above 2 times'] }],
      { 'corner-surplus': 2 },
    ],
    ['is not applicable without a through cut', facts({ cuts: [] }), 'no cut'],
  ]),
  ...casesOf('cut/uneven', [
    ['accepts outlines run equally often', facts(), []],
    [
      'warns of a stretch that gets fewer passes, once a task',
      facts({ cuts: [uneven(1, 2), uneven(1, 2)] }),
      [{ messageId: 'fewer', says: ['12.5 mm', '1 pass and the rest 2'], at: 'coaster.gcode:22' }],
    ],
    [
      'counts in the plural',
      facts({ cuts: [uneven(2, 3)] }),
      [{ messageId: 'fewer', says: ['2 passes and the rest 3'] }],
    ],
    ['has nothing to judge in artwork', artworkOnly(), 'no toolpath'],
  ]),
];
