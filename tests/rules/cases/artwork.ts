import type { ArtworkGeometry } from '../../../src/facts/artwork/geometry-fact.ts';
import type { LeftOut, LeftOutKind } from '../../../src/model/artwork.ts';
import { everything } from '../../../src/units/found.ts';
import type { Change } from '../build-facts.ts';
import { artworkOnly, at, facts, machine, sidecar, task } from '../build-facts.ts';
import { artwork, geometry, problem } from '../build-files.ts';
import { casesOf } from '../case.ts';

const drawn = (change: Change<ArtworkGeometry>) => facts({ geometry: geometry(change) });
const open = (gapMm: number, lengthMm: number, outline = 0) => ({
  outline,
  location: at('coaster.svg', 5 + outline),
  gapMm,
  lengthMm,
});
const off = (byMm: number, outline = 0) => ({ outline, location: at('coaster.svg', 5 + outline), byMm });
const left = (kind: LeftOutKind, line = 5): LeftOut => ({
  kind,
  tag: 'path',
  id: null,
  classes: [],
  layers: [],
  stroke: null,
  fill: null,
  place: at('', line),
});
const none = facts({ artwork: null, geometry: null });

const double = (lengthMm: number, times: number, line: number) => ({
  location: at('coaster.svg', line),
  other: at('coaster.svg', 4),
  lengthMm,
  times,
});
const web = (widthMm: number, line = 8) => ({
  widthMm,
  location: at('coaster.svg', line),
  other: at('coaster.svg', 4),
  xMm: 10,
  yMm: 10,
});
const narrow = (widthMm: number, kind: 'slot' | 'hole', line = 8) => ({
  widthMm,
  kind,
  location: at('coaster.svg', line),
  xMm: 10,
  yMm: 10,
});
const joint = (sizeMm: number, kind: 'slot' | 'tab' = 'slot') => ({
  sizeMm,
  count: 4,
  kind,
  location: at('coaster.svg', 8),
});
const jointed = (thicknessMm: number, ...joints: ArtworkGeometry['joints']) =>
  facts({ thicknessMm, geometry: geometry({ joints }) });
const almost = (gapMm: number, outline = 0) => ({ outline, location: at('coaster.svg', 5 + outline), gapMm });
const crossing = (outline: number) => ({
  outline,
  location: at('coaster.svg', 5 + outline),
  xMm: 12.34,
  yMm: 45.67,
  count: 3,
});
const overlap = (line: number) => ({
  location: at('coaster.svg', line),
  other: at('coaster.svg', 4),
  xMm: 12.34,
  yMm: 45.67,
});
const withProblems = (...problems: ReturnType<typeof artwork>['problems']) => facts({ artwork: artwork({ problems }) });
const image = (ppi: number, line = 8) =>
  problem('image-embedded', { type: 'image/png', widthPx: 100, heightPx: 80, widthMm: 60, heightMm: 48, ppi }, line);

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
    [
      'says nothing of the size of a file that is no artwork',
      facts({ artwork: artwork({ size: 'assumed', widthMm: 0, heightMm: 0, analysed: false }) }),
      'could not be read',
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
    // A tongue of 30 mm by 10 mm: three sides cut, the fourth is the fold.
    ['accepts the tongue of a flap', drawn({ open: [open(10, 70)] }), []],
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
    ['accepts artwork on the sheet', artworkOnly(), []],
    ['accepts rounding', artworkOnly({ geometry: geometry({ offSheet: [off(0.05)] }) }), []],
    [
      'refuses what reaches beyond it, the farthest first',
      artworkOnly({ geometry: geometry({ offSheet: [off(2), off(7.5, 1)] }) }),
      [{ messageId: 'off', says: ['2 outlines', '7.5 mm', '300.0 × 200.0 mm'], at: 'coaster.svg:6', related: 1 }],
    ],
    ['leaves a job with a toolpath to the rule for that', drawn({ offSheet: [off(7.5)] }), 'toolpath/off-sheet'],
    ['has nothing to judge without a sheet', artworkOnly({ input: { sidecar: sidecar({ sheet: null }) } }), 'no sheet'],
  ]),
  ...casesOf('artwork/unassigned-stroke', [
    ['accepts artwork whose strokes all have a task', facts(), []],
    [
      'warns of strokes without one, by colour',
      facts({
        unassignedOutlines: [0, 1, 2],
        artwork: artwork({
          elements: [artwork().elements[0]!, { ...artwork().elements[0]!, stroke: '#9c36b5', place: at('', 9) }],
          outlines: [0, 1, 1].map((element) => ({ ...artwork().outlines[0]!, element })),
        }),
      }),
      [{ messageId: 'unassigned', says: ['3 outlines', '"#9c36b5", "#0b7285"'], at: 'coaster.svg:9', related: 1 }],
    ],
    ['has nothing to judge in bare artwork', facts({ input: { sidecar: null } }), 'no sidecar'],
  ]),
  ...casesOf('artwork/scale-suspect', [
    ['accepts a drawing of the right size', facts(), []],
    [
      'warns of a slip of pixels per inch, with what speaks for it',
      drawn({
        scaleSuspect: {
          factor: 96 / 72,
          cause: 'drawn at 72 px per inch and read at 96',
          evidence: 'the page would then be the sheet',
        },
      }),
      [{ messageId: 'suspect', says: ['72 px per inch', '80 × 70 mm', 'times 1.33'], at: 'coaster.svg:1' }],
    ],
    [
      'names the page where nothing is drawn',
      facts({
        artwork: { ...artwork(), boundsMm: null },
        geometry: geometry({ scaleSuspect: { factor: 25.4, cause: 'drawn in inches', evidence: 'the page' } }),
      }),
      [{ messageId: 'suspect', says: ['100 × 100 mm'] }],
    ],
    ['has nothing to judge without artwork', none, 'no artwork'],
  ]),
  ...casesOf('artwork/duplicate-line', [
    ['accepts lines drawn once', facts(), []],
    ['accepts the touch of two shapes', drawn({ duplicates: everything([double(1.5, 2, 8)]) }), []],
    [
      'warns of lines drawn again, in one finding',
      drawn({ duplicates: everything(Array.from({ length: 9 }, (_, i) => double(30, i === 4 ? 3 : 2, 8 + i))) }),
      [{ messageId: 'twice', says: ['270.0 mm', 'up to 3 times', '9 pairs'], at: 'coaster.svg:8', related: 5 }],
    ],
    ['has nothing to judge without artwork', none, 'no artwork'],
  ]),
  ...casesOf('artwork/web-too-thin', [
    ['accepts the webs of a hinge', drawn({ webs: everything([web(1), web(2.5)]) }), []],
    [
      'warns below two kerfs, the thinnest first',
      drawn({ webs: everything([web(0.35), web(0.1, 9), web(1)]) }),
      [
        {
          messageId: 'thin',
          says: ['2 webs', 'thinner than 0.4 mm', '0.2 mm (predicted)', '0.1 mm wide'],
          at: 'coaster.svg:9',
          related: 2,
        },
      ],
    ],
    [
      'goes by its option when no kerf is predicted',
      facts({ geometry: geometry({ webs: everything([web(0.5)]), kerfMm: null }) }),
      [{ messageId: 'thin', says: ['0.6 mm', '(set for this rule)'] }],
      { kerf: 0.3 },
    ],
    [
      'notes webs thinner than the sheet where parts bear load',
      drawn({ webs: everything([web(2), web(8)]) }),
      [{ messageId: 'weak', severity: 'note', says: ['1 web is', '6.0 mm', '2.0 mm'] }],
      { 'load-bearing': true },
    ],
    ['has nothing to judge without artwork', none, 'no artwork'],
  ]),
  ...casesOf('artwork/feature-below-kerf', [
    ['accepts holes wider than the kerf', drawn({ narrow: [narrow(0.3, 'hole')] }), []],
    [
      'warns of what is narrower, the narrowest first',
      drawn({ narrow: [narrow(0.15, 'hole'), narrow(0.05, 'slot', 9)] }),
      [
        {
          messageId: 'narrow',
          says: ['2 holes or slots are', '0.2 mm (predicted)', 'a slot of 0.05 mm'],
          at: 'coaster.svg:9',
          related: 1,
        },
      ],
    ],
    ['has nothing to judge without artwork', none, 'no artwork'],
  ]),
  ...casesOf('artwork/slot-does-not-fit', [
    // A 3.0 mm sheet, kerf 0.2 mm: a slot drawn 2.8 mm wide is 3.0 mm after cutting.
    ['accepts slots drawn for this sheet', jointed(3, joint(2.8), joint(3)), []],
    [
      'warns of 3.0 mm joints on a 2.7 mm sheet',
      jointed(2.7, joint(3)),
      [{ messageId: 'loose', says: ['4 slots are', '0.5 mm wider than the 2.7 mm sheet', 'Draw them 2.5 mm'] }],
    ],
    ['warns of slots that are too tight', jointed(3.4, joint(3)), [{ messageId: 'tight', says: ['0.2 mm narrower'] }]],
    [
      'warns of tabs that stand proud',
      jointed(2.4, joint(3, 'tab')),
      [{ messageId: 'tabs', says: ['4 tabs stick out 3.0 mm', '0.6 mm too long'] }],
    ],
    [
      'warns of tabs that fall short',
      jointed(3.6, joint(3, 'tab')),
      [{ messageId: 'tabs', says: ['0.6 mm too short'] }],
    ],
    ['accepts tabs a little proud', jointed(2.7, joint(3, 'tab')), []],
    ['leaves slots for other things alone', jointed(3, joint(8), { ...joint(3.9), count: 1 }), []],
    ['has nothing to judge without a thickness', facts({ thicknessMm: null }), 'no thickness'],
  ]),
  ...casesOf('artwork/nearly-closed', [
    ['accepts closed outlines', facts(), []],
    [
      'warns of gaps wider than the kerf, the widest first',
      drawn({ nearlyClosed: [almost(0.3), almost(0.6, 1)] }),
      [{ messageId: 'gap', says: ['2 outlines miss', '0.6 mm', 'will hang on'], at: 'coaster.svg:6', related: 1 }],
    ],
    [
      'only notes gaps that the beam bridges',
      drawn({ nearlyClosed: [almost(0.1)] }),
      [{ messageId: 'gap', severity: 'note', says: ['1 outline misses', 'bridges it'] }],
    ],
    ['has nothing to judge without artwork', none, 'no artwork'],
  ]),
  ...casesOf('artwork/self-crossing', [
    ['accepts simple outlines', facts(), []],
    [
      'warns of crossings with their place',
      drawn({ selfCrossing: everything([crossing(0), crossing(1)]) }),
      [{ messageId: 'crossing', says: ['2 outlines', 'cross themselves', '12.3, 45.7 mm', '3 crossings'], related: 1 }],
    ],
    [
      'speaks of one in the singular',
      drawn({ selfCrossing: everything([crossing(0)]) }),
      [{ messageId: 'crossing', says: ['crosses itself'] }],
    ],
    ['has nothing to judge without artwork', none, 'no artwork'],
  ]),
  ...casesOf('artwork/overlapping-parts', [
    ['accepts parts apart', facts(), []],
    [
      'warns of parts that cross',
      drawn({ overlappingParts: everything([overlap(8), overlap(9)]) }),
      [{ messageId: 'overlap', says: ['2 pairs', '12.3, 45.7 mm'], related: 2 }],
    ],
    ['has nothing to judge without artwork', none, 'no artwork'],
  ]),
  ...casesOf('artwork/stray', [
    ['accepts drawings without specks', facts(), []],
    [
      'notes specks, counted',
      drawn({
        strays: [
          ...Array.from({ length: 6 }, (_, i) => ({ lengthMm: 0.1, location: at('coaster.svg', 3 + i) })),
          { lengthMm: 0.2, location: at('coaster.svg', 9) },
        ],
      }),
      [{ messageId: 'stray', says: ['7 specks', '0.1 mm'], related: 5 }],
    ],
    ['has nothing to judge without artwork', none, 'no artwork'],
  ]),
  ...casesOf('artwork/hidden-geometry', [
    ['accepts drawings without hidden shapes', facts(), []],
    [
      'notes hidden shapes with what hides them',
      withProblems(
        { ...problem('hidden', { why: 'display', tag: 'g' }), more: 3 },
        problem('hidden', { why: 'clip', tag: 'path' }, 12),
      ),
      [{ messageId: 'hidden', says: ['5 elements of the artwork are hidden (display none, a clip path)'], related: 1 }],
    ],
    [
      'says where but a part of something is hidden',
      withProblems(problem('hidden', { why: 'clip', tag: 'path', part: 'part' })),
      [{ messageId: 'hidden', says: ['1 element of the artwork is hidden in whole or in part (a clip path)'] }],
    ],
    [
      'tells what was judged whole from what was left out',
      withProblems(
        problem('hidden', { why: 'mask', tag: 'path', part: 'unknown' }),
        problem('hidden', { why: 'clip', tag: 'path', part: 'unknown' }, 11),
        problem('hidden', { why: 'no-paint', tag: 'path', part: 'whole' }, 12),
      ),
      [
        { messageId: 'hidden', says: ['1 element', 'neither stroke nor fill'] },
        { messageId: 'unclipped', says: ['2 elements of the artwork are clipped', 'were judged whole'], related: 1 },
      ],
    ],
    ['has nothing to judge without artwork', none, 'no artwork'],
  ]),
  ...casesOf('artwork/nothing-to-cut', [
    ['accepts artwork with an outline', facts(), []],
    [
      'tells what there is instead of outlines',
      facts({
        artwork: {
          ...artwork(),
          elements: [],
          outlines: [],
          leftOut: [left('hidden'), left('text', 7), left('text', 9)],
        },
      }),
      [{ messageId: 'leftOut', says: ['2 pieces of live text, 1 hidden or clipped shape'] }],
    ],
    [
      'tells the elements that draw nothing',
      facts({
        artwork: {
          ...artwork(),
          elements: [],
          outlines: [],
          contents: [
            { name: 'rect', count: 3 },
            { name: 'defs', count: 1 },
          ],
        },
      }),
      [{ messageId: 'undrawn', says: ['4 elements ("rect", "defs")'] }],
    ],
    [
      'tells a blank file',
      facts({ artwork: { ...artwork(), elements: [], outlines: [] } }),
      [{ messageId: 'blank', says: ['no element at all'] }],
    ],
    [
      'asks for no outline where images are engraved and nothing is cut',
      facts({
        artwork: { ...artwork(), elements: [], outlines: [], leftOut: [left('image')] },
        tasks: [task({ aim: 'surface' })],
      }),
      'every task marks a surface',
    ],
    [
      'asks for one where nothing is there to be engraved',
      facts({ artwork: { ...artwork(), elements: [], outlines: [] }, tasks: [task({ aim: 'surface' })] }),
      [{ messageId: 'blank', says: ['blank'] }],
    ],
    [
      'leaves to others what could not be read',
      facts({ artwork: { ...artwork(), elements: [], outlines: [], analysed: false } }),
      'could not be read to its end',
    ],
    ['has nothing to judge without artwork', none, 'no artwork'],
  ]),
  ...casesOf('artwork/external-reference', [
    ['accepts self-contained files', facts(), []],
    [
      'warns of references, linked images among them',
      withProblems(
        problem('external-reference', { href: 'http://example.org/a.css', tag: 'style' }),
        problem('image-linked', { href: 'photo.png' }, 12),
      ),
      [{ messageId: 'outside', says: ['refers 2 times', '"http://example.org/a.css"', '"style"'], related: 1 }],
    ],
    [
      'names a linked image',
      withProblems(problem('image-linked', { href: 'photo.png' })),
      [{ messageId: 'outside', says: ['a linked image'] }],
    ],
    ['has nothing to judge without artwork', none, 'no artwork'],
  ]),
  ...casesOf('artwork/active-content', [
    ['accepts plain drawings', facts(), []],
    [
      'warns of scripts and handlers',
      withProblems(problem('active-content', { what: 'script' }), problem('active-content', { what: 'onload' }, 12)),
      [{ messageId: 'active', says: ['2 pieces', '"script", "onload"'], related: 1 }],
    ],
    ['has nothing to judge without artwork', none, 'no artwork'],
  ]),
  ...casesOf('artwork/low-resolution-image', [
    ['accepts a fine image', withProblems(image(254)), []],
    [
      'warns of coarse ones, the coarsest first',
      withProblems(image(90), image(40, 12), image(300, 13)),
      [
        {
          messageId: 'coarse',
          says: ['2 images', 'the first 40', '100 × 80 px', '60.0 × 48.0 mm'],
          at: 'coaster.svg:12',
          related: 1,
        },
      ],
    ],
    [
      'counts the same image laid out again',
      withProblems({ ...image(90), more: 2 }),
      [{ messageId: 'coarse', says: ['3 images have'] }],
    ],
    ['obeys its limit', withProblems(image(90)), [], { ppi: 72 }],
    ['has nothing to judge without artwork', none, 'no artwork'],
  ]),
  ...casesOf('artwork/not-drawable', [
    ['accepts paths', facts(), []],
    [
      'warns of what has no outline, by kind',
      withProblems(
        problem('not-drawable', { tag: 'marker' }),
        problem('foreign-object', {}, 12),
        problem('not-drawable', { tag: 'pattern' }, 13),
      ),
      [
        {
          messageId: 'left',
          says: ['3 elements', '"marker", "foreignObject", "pattern"'],
          related: 2,
        },
      ],
    ],
    [
      'warns of strokes without one colour, which are judged all the same',
      withProblems(
        problem('paint-server-stroke', { paint: 'linearGradient' }, 13),
        problem('paint-server-stroke', { paint: 'pattern' }, 14),
      ),
      [
        {
          messageId: 'painted',
          says: ['2 elements are drawn', '"linearGradient", "pattern"', 'judged as drawn'],
          related: 1,
        },
      ],
    ],
    [
      'notes images, of whatever resolution',
      withProblems(image(40, 12), image(300, 13)),
      [{ messageId: 'image', severity: 'note', says: ['2 images', 'not judged'], related: 1 }],
    ],
    [
      'notes that dashes are taken for a whole line',
      withProblems(problem('dashed-stroke', { tag: 'path' }), problem('dashed-stroke', { tag: 'line' }, 12)),
      [{ messageId: 'dashed', severity: 'note', says: ['2 elements are'], related: 1 }],
    ],
    ['has nothing to judge without artwork', none, 'no artwork'],
  ]),
];
