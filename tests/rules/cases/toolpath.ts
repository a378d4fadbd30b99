import type { AreaFact, ContourFact, OrderFact } from '../../../src/facts/geometry-facts.ts';
import type { Dwell } from '../../../src/gcode/toolpath.ts';
import {
  artworkOnly,
  at,
  cut,
  facts,
  geometry,
  machine,
  material,
  pass,
  problem,
  sidecar,
  strokesThrough,
  toolpath,
} from '../build-facts.ts';
import { casesOf } from '../case.ts';

const gating = (change: { beamOffOnRapid?: boolean | null; beamOffWhenStopped?: boolean | null }) =>
  machine({ controller: change });
const hot = toolpath({ hotRapids: { count: 3, lengthMm: 120, first: at('', 14), setting: 0.8 } });
const dwell = (seconds: number, mode: Dwell['mode'], setting = 0.7, line = 20): Dwell => ({
  place: at('', line),
  seconds,
  setting,
  mode,
  pause: false,
  x: 5,
  y: 5,
});
const dwelling = (...dwells: Dwell[]) => toolpath({ dwells });
const ending = (mode: 'M3' | 'M4' | 'off', programEnd: 'M2' | null, setting = 0.7) =>
  toolpath({ end: { mode, programEnd, setting } });
const notAnalysed = (what: string, text: string, line: number) =>
  problem('not-analysed', { what, text, lines: 2 }, line);

const contour = (change: Partial<ContourFact> = {}): ContourFact => ({
  location: at('coaster.gcode', 30),
  closed: true,
  gapMm: 0,
  lengthMm: 60,
  areaMm2: 200,
  widthMm: 15,
  depth: 0,
  task: 'outline',
  ...change,
});
const ordered = (change: Partial<OrderFact>) => facts({ order: change });
const area = (change: Partial<AreaFact> = {}): AreaFact => ({
  task: null,
  location: at('coaster.gcode', 40),
  peakLocation: at('coaster.gcode', 77),
  strokes: 300,
  minX: 0,
  minY: 0,
  maxX: 40,
  maxY: 30,
  pitchMm: 0.1,
  spotMm: 0.16,
  meanJPerMm2: 0.4,
  peakJPerMm2: 1.2,
  speedMmPerS: 300,
  reachedMmPerS: 290,
  runOutMm: 4,
  runOutNeededMm: 3,
  air: false,
  ...change,
});
const crowd = (jPerMm2: number, withinS: number, line: number) => ({
  location: at('coaster.gcode', line),
  x: 25,
  y: 35,
  cuts: 14,
  lengthMm: 140,
  areaMm2: 100,
  withinS,
  jPerMm2,
});
const breathless = (air: boolean) => [cut({ passes: [pass({ air })] })];
const surfaceOnly = [cut({ aim: 'surface' })];
const lowered = (minZ: number, maxZ = 0) => facts({ toolpath: toolpath({ boundsMm: { minZ, maxZ } }) });

export const toolpathCases = [
  ...casesOf('toolpath/off-bed', [
    ['accepts a job within the travel', facts(), []],
    ['accepts the edge of the travel', facts({ onBed: { minX: 0, minY: 0, maxX: 600, maxY: 400 } }), []],
    [
      'refuses a job beyond it and points at the first stroke that leaves the bed',
      facts({
        onBed: { minX: 550, minY: 20, maxX: 640, maxY: 100 },
        toolpath: toolpath({
          strokes: strokesThrough([
            [10, 10],
            [40, 10],
            [90, 10],
          ]),
        }),
      }),
      [{ messageId: 'outside', says: ['X 640.0 mm', '0 to 600.0 mm', 'by 40.0 mm'], at: 'coaster.gcode:11' }],
    ],
    [
      'refuses a job left of the origin',
      facts({ onBed: { minX: 0, minY: -12, maxX: 90, maxY: 68 }, toolpath: null }),
      [{ messageId: 'outside', says: ['Y -12.0 mm'], at: 'coaster.job.yaml:4' }],
    ],
    [
      'refuses a job larger than the bed, whatever zero is',
      facts({ onBed: null, toolpath: toolpath({ boundsMm: { maxX: 700 } }) }),
      [{ messageId: 'tooLarge', says: ['700.0 mm long in X'] }],
    ],
    [
      'checks the extent only when zero is set by hand',
      facts({ onBed: null, input: { sidecar: sidecar({ zero: 'set-by-hand' }) } }),
      [],
    ],
    [
      'says that the place is not known when zero is not stated',
      facts({ onBed: null, onBedUnknown: '`zero` is not stated', input: { sidecar: sidecar({ zero: null }) } }),
      'the place on the bed is not known: `zero` is not stated',
    ],
    ['has nothing to judge without a machine', facts({ machine: null }), 'machine is not known'],
  ]),
  ...casesOf('toolpath/beam-on-rapid', [
    ['accepts powered rapids where the controller gates them', facts({ toolpath: hot }), []],
    [
      'refuses them where it does not, all in one finding',
      facts({ toolpath: hot, machine: gating({ beamOffOnRapid: false }) }),
      [{ messageId: 'burns', says: ['3 rapids run', '120.0 mm', '80 %'], at: 'coaster.gcode:14' }],
    ],
    [
      'notes them once where nobody knows',
      facts({ toolpath: hot, machine: gating({ beamOffOnRapid: null }) }),
      [{ messageId: 'unknown', severity: 'note', says: ['beam-off-on-rapid'] }],
    ],
    ['has nothing to judge in artwork', artworkOnly(), 'no toolpath'],
  ]),
  ...casesOf('toolpath/beam-left-on', [
    ['accepts M5 at the end', facts(), []],
    ['accepts M3 with power 0', facts({ toolpath: ending('M3', null, 0) }), []],
    ['accepts M2 where the controller then switches off', facts({ toolpath: ending('M3', 'M2') }), []],
    ['accepts M4 where the controller gates it', facts({ toolpath: ending('M4', null) }), []],
    [
      'refuses M3 that nothing ends',
      facts({ toolpath: ending('M3', null) }),
      [{ messageId: 'left', says: ['M3', '70 %', 'neither M5 nor M2 nor M30'], at: 'coaster.gcode:30' }],
    ],
    [
      'refuses M2 where the controller goes on',
      facts({ toolpath: ending('M4', 'M2'), machine: gating({ beamOffWhenStopped: false }) }),
      [{ messageId: 'left', says: ['does not switch it off'] }],
    ],
    [
      'notes it where nobody knows',
      facts({ toolpath: ending('M3', 'M2'), machine: null }),
      [{ messageId: 'unknown', severity: 'note' }],
    ],
  ]),
  ...casesOf('toolpath/dwell-burn', [
    ['accepts a dwell with the beam off', facts({ toolpath: dwelling(dwell(3, 'off'), dwell(3, 'M3', 0)) }), []],
    ['accepts a pierce', facts({ toolpath: dwelling(dwell(0.3, 'M3')) }), []],
    ['accepts a dwell under M4 where the controller gates it', facts({ toolpath: dwelling(dwell(3, 'M4')) }), []],
    [
      'refuses a dwell under M3 all the same, the longest first',
      facts({ toolpath: dwelling(dwell(1, 'M3', 0.7, 12), dwell(2.5, 'M3', 0.7, 20)) }),
      [
        {
          messageId: 'burns',
          says: ['for 2.5 s under M3', 'the longest of 2'],
          at: 'coaster.gcode:20',
          related: 1,
        },
      ],
    ],
    [
      'refuses a dwell under M4 where the controller does not gate it',
      facts({ toolpath: dwelling(dwell(1, 'M4')), machine: gating({ beamOffWhenStopped: false }) }),
      [{ messageId: 'burns', says: ['1 s under M4', 'does not switch the beam off'] }],
    ],
    [
      'notes it once where nobody knows',
      facts({ toolpath: dwelling(dwell(1, 'M3')), machine: gating({ beamOffWhenStopped: null }) }),
      [{ messageId: 'unknown', severity: 'note' }],
    ],
    [
      'refuses a pause with the beam on, however long it is',
      facts({ toolpath: dwelling({ ...dwell(0, 'M3'), pause: true }, dwell(2, 'M3')) }),
      [{ messageId: 'burns', says: ['still until somebody presses a button'], related: 1 }],
    ],
    ['obeys its pierce', facts({ toolpath: dwelling(dwell(1, 'M3')) }), [], { pierce: 1.5 }],
  ]),
  ...casesOf('toolpath/not-analysed', [
    ['accepts plain moves', facts(), []],
    [
      'refuses what hides motion or beam, one finding a kind',
      facts({
        toolpath: toolpath({
          analysed: false,
          problems: [
            notAnalysed('o-word', 'o100 while', 4),
            notAnalysed('o-word', 'o100 endwhile', 9),
            notAnalysed('expression', 'X[1+2]', 5),
          ],
        }),
      }),
      [
        { messageId: 'incomplete', says: ['O-words', '"o100 while"', '4 lines'], related: 1, at: 'coaster.gcode:4' },
        { messageId: 'incomplete', says: ['"X[1+2]"'] },
      ],
    ],
    [
      'warns of what was left out though the rest could be followed',
      facts({ toolpath: toolpath({ problems: [notAnalysed('cutter-compensation', 'G41', 4)] }) }),
      [{ messageId: 'applied', severity: 'warning', says: ['"G41"'] }],
    ],
    [
      'only notes a setting or an unknown code',
      facts({
        toolpath: toolpath({ problems: [notAnalysed('setting', '$32=1', 2), notAnalysed('splines', 'G5', 3)] }),
      }),
      [
        { messageId: 'applied', severity: 'note' },
        { messageId: 'applied', severity: 'warning' },
      ],
    ],
    [
      'speaks up when the program could not be followed for another reason',
      facts({ toolpath: toolpath({ analysed: false }) }),
      [{ messageId: 'unfollowed', at: 'coaster.gcode:30' }],
    ],
  ]),
  ...casesOf('toolpath/arc-mismatch', [
    ['accepts arcs that close up', facts(), []],
    [
      'refuses arcs whose radii differ, all in one finding',
      facts({
        toolpath: toolpath({
          problems: [
            problem('arc-mismatch', { startRadiusMm: 5, endRadiusMm: 5.08, differenceMm: 0.08, toleranceMm: 0.05 }),
            problem('arc-mismatch', { startRadiusMm: 5, endRadiusMm: 5.1, differenceMm: 0.1, toleranceMm: 0.05 }, 9),
          ],
        }),
      }),
      [{ messageId: 'mismatch', says: ['2 arcs do not close up', '5 mm and ends 5.08 mm', '0.05 mm'], related: 1 }],
    ],
    ['has nothing to judge in artwork', artworkOnly(), 'no toolpath'],
  ]),
  ...casesOf('toolpath/modal-conflict', [
    ['accepts one code of a group', facts(), []],
    [
      'refuses two, and counts the lines',
      facts({
        toolpath: toolpath({
          problems: [
            { ...problem('modal-conflict', { first: 'G0', second: 'G1', group: 'motion' }), more: 2 },
            problem('modal-conflict', { first: 'M3', second: 'M5', group: 'spindle' }, 12),
          ],
        }),
      }),
      [{ messageId: 'conflict', says: ['G0 and G1', 'motion', '4 such lines in all'], related: 1 }],
    ],
    ['has nothing to judge in artwork', artworkOnly(), 'no toolpath'],
  ]),
  ...casesOf('toolpath/inner-after-outer', [
    ['accepts holes ahead of their outline', facts(), []],
    [
      'warns of holes that come too late, all in one finding',
      ordered({
        innerAfterOuter: Array.from({ length: 8 }, (_, i) => ({
          inner: contour({ location: at('coaster.gcode', 40 + i) }),
          outer: contour({ location: at('coaster.gcode', 12) }),
        })),
      }),
      [{ messageId: 'late', says: ['8 contours', 'line 12'], at: 'coaster.gcode:40', related: 5 }],
    ],
    ['has nothing to judge in artwork', artworkOnly(), 'no toolpath'],
  ]),
  ...casesOf('toolpath/open-cut', [
    ['accepts closed contours', facts(), []],
    ['accepts slits', ordered({ open: [contour({ closed: false, gapMm: 20, lengthMm: 20 })] }), []],
    ['accepts a gap that the kerf bridges', ordered({ open: [contour({ closed: false, gapMm: 0.08 })] }), []],
    [
      'warns of contours that stop short',
      ordered({ open: [contour({ closed: false, gapMm: 3 }), contour({ closed: false, gapMm: 4 })] }),
      [{ messageId: 'open', says: ['2 contours', '3.0 mm of its 60.0 mm'], related: 1 }],
    ],
    [
      'leaves outlines alone that are as open in the artwork',
      facts({
        order: { open: [contour({ closed: false, gapMm: 3 })] },
        geometry: geometry({ open: [{ outline: 0, location: at('coaster.svg', 4), gapMm: 3, lengthMm: 60 }] }),
      }),
      [],
    ],
    ['has nothing to judge in artwork', artworkOnly(), 'no toolpath'],
  ]),
  ...casesOf('toolpath/air-off', [
    ['accepts cuts with air', facts(), []],
    [
      'accepts surfaces without it',
      facts({ cuts: [...breathless(true), cut({ aim: 'surface', passes: [pass({ air: false })] })] }),
      [],
    ],
    [
      'warns of through cuts without air in a program that switches it',
      facts({ cuts: breathless(false) }),
      [{ messageId: 'off', says: ['300.0 mm', '"outline"'], at: 'coaster.gcode:7' }],
    ],
    [
      'notes a program that never switches it',
      { ...facts({ cuts: breathless(false) }), toolpath: { ...toolpath(), codesSeen: {} } },
      [{ messageId: 'unswitched', severity: 'note' }],
    ],
    [
      'notes artwork without planned air',
      artworkOnly({ cuts: breathless(false) }),
      [{ messageId: 'unplanned', severity: 'note', says: ['"outline"'] }],
    ],
    ['accepts artwork with planned air', artworkOnly({ cuts: breathless(true) }), []],
    ['has nothing to judge without a through cut', facts({ cuts: surfaceOnly }), 'no cut'],
  ]),
  ...casesOf('toolpath/heat-crowding', [
    ['accepts an ordinary hinge', ordered({ crowded: [crowd(1.2, 20, 50)] }), []],
    ['accepts crowded cuts with a rest between', ordered({ crowded: [crowd(5, 300, 50)] }), []],
    [
      'warns of crowded patches, the worst first',
      ordered({ crowded: [crowd(2.4, 20, 50), crowd(4.5, 22, 80)] }),
      [
        {
          messageId: 'crowded',
          says: ['2 patches', 'X25 Y35', '4.5 J/mm²', '14 cuts'],
          at: 'coaster.gcode:80',
          related: 1,
        },
      ],
    ],
    ['obeys its limit', ordered({ crowded: [crowd(2.4, 20, 50)] }), [], { energy: 3 }],
    ['has nothing to judge in artwork', artworkOnly(), 'no toolpath'],
  ]),
  ...casesOf('toolpath/raster-pitch', [
    ['accepts lines two thirds of a spot apart', facts({ areas: [area()] }), []],
    [
      'notes stripes',
      facts({ areas: [area({ pitchMm: 0.3 }), area({ pitchMm: 0.4 })] }),
      [{ messageId: 'gaps', severity: 'note', says: ['2 raster areas', '0.3 mm', '0.16 mm', '1.5 spots'], related: 1 }],
    ],
    [
      'warns of lines that pile up',
      facts({ areas: [area({ pitchMm: 0.02 })] }),
      [{ messageId: 'overlap', says: ['0.02 mm', '8 times over'] }],
    ],
    ['has nothing to judge without areas', facts(), 'no raster area'],
    ['has nothing to judge without a spot', facts({ areas: [area({ spotMm: null })] }), 'not both known'],
  ]),
  ...casesOf('toolpath/raster-peak-energy', [
    ['accepts a mark in the surface', facts({ areas: [area()] }), []],
    [
      // 24 J/mm² over 6 J/mm³ is 4 mm of 6.
      'warns where the peak burns deep',
      facts({ areas: [area({ peakJPerMm2: 20 }), area({ peakJPerMm2: 24 })] }),
      [
        {
          messageId: 'deep',
          says: ['the worst of 2', '24 J/mm²', '4.0 mm of the 6.0 mm', '6 J/mm³', '50 %'],
          at: 'coaster.gcode:77',
          related: 1,
        },
      ],
    ],
    [
      'names a single area',
      facts({ areas: [area({ peakJPerMm2: 24 })] }),
      [{ messageId: 'deep', says: ['At its peak a raster area'] }],
    ],
    ['has nothing to judge without areas', facts(), 'no raster area'],
    [
      'has nothing to judge without a removal energy',
      facts({ areas: [area()], material: material({ removal: null }) }),
      'removal energy',
    ],
  ]),
  ...casesOf('toolpath/wrong-kind', [
    ['accepts a program for a laser', facts(), []],
    [
      'refuses one for filament',
      facts({
        toolpath: toolpath({ problems: [problem('wrong-kind', { kind: 'extruder', evidence: '40 E words' })] }),
      }),
      [{ messageId: 'kind', says: ['melts filament', '40 E words'] }],
    ],
    ['has nothing to judge in artwork', artworkOnly(), 'no toolpath'],
  ]),
  ...casesOf('toolpath/units-suspect', [
    ['accepts millimetres stated once', facts(), []],
    [
      'warns of units that change on the way',
      facts({
        toolpath: toolpath({
          problems: [
            problem('units-changed', { from: 'mm', to: 'inch' }),
            problem('units-changed', { from: 'inch', to: 'mm' }, 20),
          ],
        }),
      }),
      [{ messageId: 'changed', says: ['from mm to inch'], related: 1 }],
    ],
    [
      'warns of a job that fits the machine only when its inches are millimetres',
      facts({
        toolpath: toolpath({ units: 'inch', poweredBoundsMm: { minX: 0, minY: 0, maxX: 2032, maxY: 1778 } }),
        artwork: null,
      }),
      [{ messageId: 'large', says: ['2032.0 × 1778.0 mm', '80.0 × 70.0 mm'] }],
    ],
    [
      'warns of a job 25.4 times smaller than its artwork',
      facts({ toolpath: toolpath({ poweredBoundsMm: { minX: 0, minY: 0, maxX: 3.15, maxY: 2.76 } }) }),
      [{ messageId: 'small', says: ['3.15 × 2.76 mm', '80.0 × 70.0 mm'] }],
    ],
    [
      'notes a unit that is not stated',
      facts({ toolpath: toolpath({ units: 'none-stated' }) }),
      [{ messageId: 'notStated', severity: 'note' }],
    ],
    ['has nothing to judge in artwork', artworkOnly(), 'no toolpath'],
  ]),
  ...casesOf('toolpath/no-end', [
    ['accepts M2', facts(), []],
    [
      'notes a program without an end',
      facts({ toolpath: toolpath({ end: { programEnd: null } }) }),
      [{ messageId: 'noEnd', says: ['30 lines'] }],
    ],
    [
      'leaves an empty program to input/syntax',
      facts({ toolpath: toolpath({ moves: 0, end: { programEnd: null } }) }),
      [],
    ],
    ['has nothing to judge in artwork', artworkOnly(), 'no toolpath'],
  ]),
  ...casesOf('toolpath/z-collision', [
    ['accepts a focus lowered by 5 mm under a nozzle at 6 mm', lowered(-5), []],
    [
      'refuses a nozzle that comes too near',
      facts({
        toolpath: toolpath({ boundsMm: { minZ: -5.8 }, strokes: { startZ: Float64Array.of(0, 0, -5.8, -5.8) } }),
      }),
      [{ messageId: 'lowered', says: ['Z-5.8 mm', '6.0 mm above', 'within 0.2 mm'], at: 'coaster.gcode:12' }],
    ],
    [
      'refuses a nozzle in the sheet',
      lowered(-9),
      [{ messageId: 'lowered', says: ['within 0.0 mm'], at: 'coaster.gcode:1' }],
    ],
    ['refuses more than the travel', lowered(-5, 50), [{ messageId: 'beyond', says: ['55.0 mm', '40.0 mm'] }]],
    [
      'has nothing to judge without a controlled Z',
      facts({ machine: machine({ controller: { zZero: 'fixed' } }) }),
      'no controlled Z',
    ],
    ['has nothing to judge when the standoff is not stated', facts({ lens: { standoffMm: null } }), 'standoff'],
  ]),
  ...casesOf('toolpath/tip-up', [
    ['accepts large parts, and crumbs', ordered({ freed: [contour({ widthMm: 3 }), contour({ widthMm: 80 })] }), []],
    [
      'notes parts that may tip',
      ordered({ freed: [contour(), contour({ widthMm: 20 })] }),
      [{ messageId: 'tip', says: ['2 pieces', '8 and 25 mm', '15.0 mm wide'], related: 1 }],
    ],
    ['obeys its range', ordered({ freed: [contour()] }), [], { largest: 10 }],
    ['has nothing to judge in artwork', artworkOnly(), 'no toolpath'],
  ]),
];
