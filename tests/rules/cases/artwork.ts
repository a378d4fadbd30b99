import type { ArtworkGeometry } from '../../../src/facts/geometry-facts.ts';
import type { Change } from '../build-facts.ts';
import { artwork, at, facts, geometry, machine, problem, sidecar } from '../build-facts.ts';
import { casesOf } from '../case.ts';

const drawn = (change: Change<ArtworkGeometry>) => facts({ geometry: geometry(change) });
const open = (gapMm: number, lengthMm: number, outline = 0) => ({
  outline,
  location: at('coaster.svg', 5 + outline),
  gapMm,
  lengthMm,
});
const off = (byMm: number, outline = 0) => ({ outline, location: at('coaster.svg', 5 + outline), byMm });
const none = facts({ artwork: null, geometry: null });

export const artworkCases = [
  ...casesOf('artwork/no-physical-size', [
    ['accepts a page in millimetres', facts(), []],
    [
      'warns of a page in pixels, with the size that was assumed',
      facts({
        artwork: artwork({ size: 'assumed', problems: [problem('no-physical-size', { pxPerInch: 96 }, 2)] }),
      }),
      [
        {
          messageId: 'assumed',
          says: ['96 px per inch (the default of CSS)', '100.0 × 100.0 mm'],
          at: 'coaster.svg:2',
        },
      ],
    ],
    [
      'names the profile where it states the density',
      facts({ artwork: artwork({ size: 'assumed' }), machine: machine({ artwork: { pxPerInch: 72, stated: true } }) }),
      [{ messageId: 'assumed', says: ['72 px per inch', 'machine’s profile'], at: 'coaster.svg:1' }],
    ],
    ['has nothing to judge without artwork', none, 'no artwork'],
  ]),
  ...casesOf('artwork/live-text', [
    ['accepts paths', facts(), []],
    [
      'warns of text, all in one finding',
      facts({
        artwork: artwork({
          problems: [problem('live-text', { text: 'Beans' }, 6), problem('live-text', { text: 'Peas' }, 7)],
        }),
      }),
      [{ messageId: 'text', says: ['2 pieces', '"Beans"'], at: 'coaster.svg:6', related: 1 }],
    ],
    ['has nothing to judge without artwork', none, 'no artwork'],
  ]),
  ...casesOf('artwork/open-outline', [
    ['accepts closed outlines', facts(), []],
    ['accepts a hundred slits of a hinge', drawn({ open: Array.from({ length: 100 }, (_, i) => open(20, 20, i)) }), []],
    [
      'warns of outlines that turn back and stop short, all in one finding',
      drawn({ open: Array.from({ length: 100 }, (_, i) => open(8, 300, i)) }),
      [{ messageId: 'open', says: ['100 outlines', '8.0 mm of its 300.0 mm'], related: 5 }],
    ],
    [
      'leaves nearly closed ones to their own rule',
      drawn({ open: [open(0.2, 300)], nearlyClosed: [{ outline: 0, location: at('coaster.svg', 5), gapMm: 0.2 }] }),
      [],
    ],
    [
      'obeys its option',
      drawn({ open: [open(90, 300)] }),
      [{ messageId: 'open', says: ['1 outline of'] }],
      { 'turns-back': 0.5 },
    ],
    ['says the same of each', drawn({ open: [open(8, 300), open(9, 300, 1)] }), [{ messageId: 'open', related: 1 }]],
    ['has nothing to judge without artwork', none, 'no artwork'],
  ]),
  ...casesOf('artwork/off-sheet', [
    ['accepts artwork on the sheet', facts(), []],
    ['accepts rounding', drawn({ offSheet: [off(0.05)] }), []],
    [
      'refuses what reaches beyond it, the farthest first',
      drawn({ offSheet: [off(2), off(7.5, 1)] }),
      [{ messageId: 'off', says: ['2 outlines', '7.5 mm', '300.0 × 200.0 mm'], at: 'coaster.svg:6', related: 1 }],
    ],
    ['has nothing to judge without a sheet', facts({ input: { sidecar: sidecar({ sheet: null }) } }), 'no sheet'],
  ]),
  ...casesOf('artwork/unassigned-stroke', [
    ['accepts artwork whose strokes all have a task', facts(), []],
    [
      'warns of strokes without one, by colour',
      facts({
        unassignedOutlines: [0, 1, 2],
        artwork: artwork({
          elements: [artwork().elements[0]!, { ...artwork().elements[0]!, stroke: '#ff0000', place: at('', 9) }],
          outlines: [0, 1, 1].map((element) => ({ ...artwork().outlines[0]!, element })),
        }),
      }),
      [{ messageId: 'unassigned', says: ['3 outlines', '"#ff0000", "#0b7285"'], at: 'coaster.svg:9', related: 1 }],
    ],
    ['has nothing to judge in bare artwork', facts({ input: { sidecar: null } }), 'no sidecar'],
  ]),
];
