import type { AreaFact } from '../../../src/facts/order/areas.ts';
import type { ContourFact, OrderFact } from '../../../src/facts/order/order-fact.ts';
import { artworkOnly, at, cut, facts, material, pass } from '../build-facts.ts';
import { geometry, toolpath } from '../build-files.ts';
import { casesOf } from '../case.ts';

const contour = (change: Partial<ContourFact> = {}): ContourFact => ({
  location: at('coaster.gcode', 30),
  closed: true,
  gapMm: 0,
  lengthMm: 60,
  areaMm2: 200,
  widthMm: 15,
  depth: 0,
  task: 'outline',
  strokes: Uint32Array.of(0),
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
export const toolpathWorkCases = [
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
      [
        {
          messageId: 'late',
          says: ['8 contours', 'run after the outline around them', 'line 12'],
          at: 'coaster.gcode:40',
          related: 5,
        },
      ],
    ],
    [
      'speaks of one hole in the singular',
      ordered({ innerAfterOuter: [{ inner: contour(), outer: contour({ location: at('coaster.gcode', 12) }) }] }),
      [{ messageId: 'late', says: ['1 contour ', 'runs after the outline around it'], related: 1 }],
    ],
    ['has nothing to judge in artwork', artworkOnly(), 'no toolpath'],
  ]),
  ...casesOf('toolpath/open-cut', [
    ['accepts closed contours', facts(), []],
    ['accepts slits', ordered({ open: [contour({ closed: false, gapMm: 20, lengthMm: 20 })] }), []],
    ['accepts the tongue of a flap', ordered({ open: [contour({ closed: false, gapMm: 10, lengthMm: 70 })] }), []],
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
      { ...facts({ cuts: breathless(false) }), toolpath: { ...toolpath(), switchesAir: false } },
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
  ...casesOf('toolpath/tip-up', [
    ['accepts large parts, and crumbs', ordered({ freed: [contour({ widthMm: 3 }), contour({ widthMm: 80 })] }), []],
    [
      'notes parts that may tip',
      ordered({ freed: [contour(), contour({ widthMm: 20 })] }),
      [{ messageId: 'tip', says: ['2 pieces', '8 and 25 mm', '15.0 mm wide'], related: 1 }],
    ],
    ['obeys its range', ordered({ freed: [contour()] }), [], { largest: 10 }],
    ['obeys its lower end', ordered({ freed: [contour()] }), [], { smallest: 15.5 }],
    [
      'takes in what its range is widened to',
      ordered({ freed: [contour({ widthMm: 7 })] }),
      [{ messageId: 'tip' }],
      { smallest: 6.5 },
    ],
    [
      'passes over parts that do not reach the nozzle when they tip',
      facts({ order: { freed: [contour()] }, lens: { standoffMm: 8 } }),
      [],
      { 'standoff-factor': 2 },
    ],
    ['has nothing to judge in artwork', artworkOnly(), 'no toolpath'],
  ]),
];
