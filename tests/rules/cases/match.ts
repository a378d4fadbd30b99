import type { JobFacts } from '../../../src/facts/facts.ts';
import type { MatchFact } from '../../../src/facts/match/match-fact.ts';
import { everything } from '../../../src/units/found.ts';
import { artworkOnly, at, facts, plannedTask, task } from '../build-facts.ts';
import { geometry, match, placement, toolpath } from '../build-files.ts';
import { casesOf } from '../case.ts';

const matched = (change: Partial<MatchFact> = {}, tasks = [task()]) => facts({ match: match(change), tasks });
const undrawn = (aim: 'through' | 'groove' | 'surface') =>
  task({ outlines: new Uint32Array(0) }, plannedTask({ name: 'rim', aim, strokes: { stroke: '#9c36b5' } }));
const strokes = (count: number, throughProbability: number | null = null) => ({
  strokes: count,
  lengthMm: 96,
  location: at('coaster.gcode', 40),
  throughProbability,
});
const unclaimed = (change: Partial<JobFacts['unclaimed']>) =>
  facts({ unclaimed: { parting: null, open: null, ...change } });
const placed = (change: Partial<typeof placement>, scaleCause: string | null = null) =>
  matched({ placement: { ...placement, ...change }, scaleCause });
const unplaced = matched({ placement: null });
const missing = (outline: number, lengthMm: number, outlineLengthMm = 100) => ({
  outline,
  location: at('coaster.svg', 4 + outline),
  lengthMm,
  outlineLengthMm,
});
const extra = (lengthMm: number, line = 40) => ({ location: at('coaster.gcode', line), lengthMm, strokes: 2 });
const setting = (what: MatchFact['settings'][number]['what'], lengthMm = 300) => ({
  task: 'outline',
  what,
  planned: '80 %',
  found: '60 %',
  location: at('coaster.gcode', 7),
  plannedAt: at('coaster.job.yaml', 15),
  lengthMm,
});

export const matchCases = [
  ...casesOf('match/scale-differs', [
    ['accepts the same size', matched(), []],
    [
      'refuses another size with its likely cause',
      placed({ scale: 1.3333 }, 'the drawing counts 72 px to the inch and was read at 96'),
      [{ messageId: 'scaled', says: ['1.33 times', '72 px to the inch'], at: 'coaster.gcode:10' }],
    ],
    ['says so when no cause fits', placed({ scale: 1.1 }), [{ messageId: 'scaled', says: ['fits no usual slip'] }]],
    [
      'names kerf compensation as such, in a note',
      placed({ offsetMm: 0.1 }),
      [{ messageId: 'offset', severity: 'note', says: ['0.1 mm outside', 'kerf of 0.2 mm'] }],
    ],
    ['names the inner side', placed({ offsetMm: -0.1 }), [{ messageId: 'offset', severity: 'note', says: ['inside'] }]],
    ['leaves a hair’s breadth alone', placed({ offsetMm: 0.03 }), []],
    ['has nothing to judge when it was not found', unplaced, 'not found'],
    ['has nothing to judge in artwork alone', artworkOnly(), 'both toolpath and artwork'],
  ]),
  ...casesOf('match/mirrored', [
    ['accepts the right hand', matched(), []],
    ['warns of the mirror image', placed({ mirrored: true }), [{ messageId: 'mirrored', at: 'coaster.gcode:10' }]],
    ['leaves shapes alone that are their own mirror image', placed({ mirrored: true, ambiguous: true }), []],
    ['has nothing to judge when it was not found', unplaced, 'not found'],
    ['has nothing to judge in artwork alone', artworkOnly(), 'both toolpath and artwork'],
  ]),
  ...casesOf('match/missing-in-toolpath', [
    ['accepts a toolpath with every line', matched(), []],
    ['accepts a missing hair', matched({ missing: everything([missing(0, 0.4)]) }), []],
    [
      'refuses missing lines, the longest first',
      matched({ missing: everything([missing(0, 20), missing(1, 100)]) }),
      [{ messageId: 'missing', says: ['2 outlines', '120.0 of 200.0 mm'], at: 'coaster.svg:5', related: 1 }],
    ],
    [
      'leaves outlines that run without power to power/zero-on-cut',
      facts({
        match: match({ missing: everything([missing(0, 100)]) }),
        tasks: [task({ unpoweredOutlines: everything([{ outline: 0, location: at('coaster.svg', 4) }]) })],
      }),
      [],
    ],
    ['has nothing to judge when it was not found', unplaced, 'not found'],
    ['has nothing to judge in artwork alone', artworkOnly(), 'both toolpath and artwork'],
  ]),
  ...casesOf('match/extra-in-toolpath', [
    ['accepts a toolpath with nothing else', matched(), []],
    ['accepts lead-ins', matched({ extra: everything([extra(3)]) }), []],
    [
      'warns of other lines',
      matched({ extra: everything([extra(30), extra(12, 60), extra(2, 61)]) }),
      [{ messageId: 'drawn', says: ['42.0 mm (2 stretches)', 'artwork'], at: 'coaster.gcode:40', related: 1 }],
    ],
    ['has nothing to judge when it was not found', unplaced, 'not found'],
    ['has nothing to judge in artwork alone', artworkOnly(), 'no artwork to hold'],
  ]),
  ...casesOf('match/settings-differ', [
    ['accepts the planned settings', matched(), []],
    [
      'warns of others, once a task and setting',
      matched({ settings: [setting('power'), setting('power'), setting('speed')] }),
      [
        {
          messageId: 'differs',
          says: ['"outline" plans power 80 %', 'has 60 %', '300.0 mm'],
          at: 'coaster.gcode:7',
          related: 1,
        },
        { messageId: 'differs', says: ['speed'] },
      ],
    ],
    ['accepts a short difference', matched({ settings: [setting('power', 0.5)] }), []],
    ['has nothing to judge in artwork alone', artworkOnly(), 'no plan'],
  ]),
  ...casesOf('match/not-found', [
    ['accepts artwork that was found', matched(), []],
    ['refuses artwork that was not', unplaced, [{ messageId: 'artwork', at: 'coaster.gcode:10' }]],
    ['accepts artwork without outlines', facts({ match: match({ placement: null }), artwork: { outlines: [] } }), []],
    [
      'leaves a toolpath alone that could not be followed',
      facts({ match: match({ placement: null }), toolpath: toolpath({ analysed: false }) }),
      [],
    ],
    [
      'warns of a task that was not found',
      matched({
        unmatchedTasks: [
          {
            task: 'fold',
            aim: 'groove' as const,
            reason: 'no powered stroke bears tool 3',
            location: at('coaster.job.yaml', 20),
          },
        ],
      }),
      [{ messageId: 'task', severity: 'warning', says: ['"fold"', 'tool 3'], at: 'coaster.job.yaml:20' }],
    ],
    [
      'refuses a through task that was not found',
      matched({
        unmatchedTasks: [
          {
            task: 'rim',
            aim: 'through' as const,
            reason: 'no powered stroke bears tool 3',
            location: at('a.job.yaml', 20),
          },
        ],
      }),
      [{ messageId: 'task', severity: 'error', says: ['"rim"'] }],
    ],
    [
      'refuses a through task that selects nothing in the artwork, and says what there is',
      artworkOnly({ tasks: [undrawn('through')] }),
      [
        {
          messageId: 'drawn',
          severity: 'error',
          says: ['"rim" selects nothing', 'stroke "#9c36b5"', 'the artwork has'],
        },
      ],
    ],
    [
      'warns of a groove that selects nothing in the artwork',
      matched({}, [task(), undrawn('groove')]),
      [{ messageId: 'drawn', severity: 'warning', says: ['grooved'] }],
    ],
    ['leaves a surface alone, which may be an image', artworkOnly({ tasks: [undrawn('surface')] }), []],
    [
      'leaves artwork alone that was not read to its end',
      artworkOnly({ tasks: [undrawn('through')], artwork: { analysed: false } }),
      [],
    ],
    [
      'has nothing to judge in a bare toolpath',
      facts({ input: { sidecar: null }, artwork: null, geometry: geometry() }),
      'no plan',
    ],
  ]),
  ...casesOf('match/unclaimed-strokes', [
    ['accepts a toolpath whose strokes all have a task', facts(), []],
    [
      'warns of strokes of which nobody knows what they are for',
      unclaimed({ open: strokes(12) }),
      [
        {
          messageId: 'open',
          says: ['12 strokes (96.0 mm), line 40 and on, belong to no task'],
          at: 'coaster.gcode:40',
        },
      ],
    ],
    [
      'notes those that part the sheet anyway',
      unclaimed({ parting: strokes(1, 0.96) }),
      [{ messageId: 'parting', severity: 'note', says: ['1 stroke', 'it will part the sheet', '96 % likely'] }],
    ],
    ['leaves a few millimetres that part alone', unclaimed({ parting: { ...strokes(1, 0.96), lengthMm: 4 } }), []],
    ['has nothing to judge in artwork alone', artworkOnly(), 'no toolpath'],
    ['has nothing to judge in a bare toolpath', facts({ input: { sidecar: null } }), 'no sidecar'],
  ]),
];
