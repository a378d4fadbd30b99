import type { SheetFitFact } from '../../../src/facts/match/on-sheet.ts';
import type { BeamWord } from '../../../src/model/toolpath.ts';
import { artworkOnly, at, facts, machine, sidecar } from '../build-facts.ts';
import { problem, rasterArea, strokesThrough, toolpath } from '../build-files.ts';
import { casesOf } from '../case.ts';

const word = (name: string, highest: number | null, line = 4): BeamWord => ({
  word: name,
  highest,
  place: at('', line),
});
const silent = (...beamWords: BeamWord[]) =>
  toolpath({ strokes: strokesThrough([]), beamWords, time: { totalS: 6900 }, highestSetting: null });
const byFan = machine({ controller: { power: { word: 'M106', full: 255 } } });
const lying = (change: Partial<SheetFitFact>): SheetFitFact => ({
  byMm: 30,
  axis: 'X',
  sizeMm: 80,
  sizeOnly: false,
  beyond: 3,
  line: 12,
  ...change,
});

/** What is asked of the program as a whole: does it fire, does it end, does it lie on the sheet. */
export const toolpathProgramCases = [
  ...casesOf('toolpath/never-fires', [
    ['accepts a program that fires', facts(), []],
    [
      'accepts one that only engraves',
      facts({ toolpath: toolpath({ strokes: strokesThrough([]), areas: [rasterArea(0.5)] }) }),
      [],
    ],
    [
      'refuses a beam switched on at power 0',
      facts({ toolpath: silent(word('M3', null), word('S', 0)) }),
      [{ messageId: 'zero', says: ['1 h 55 min', 'M3 and S (0 at most)', 'up to 1000'], at: 'coaster.gcode:4' }],
    ],
    [
      'refuses another word for the power',
      facts({ toolpath: silent(word('M106', 255)) }),
      [{ messageId: 'otherWord', says: ['S sets the power, full at 1000', 'M106 (255 at most)'] }],
    ],
    [
      'refuses the other way round',
      facts({ toolpath: silent(word('M3', null), word('S', 800)), machine: byFan }),
      [{ messageId: 'otherWord', says: ['M106 sets the power, full at 255', 'M3 and S (800 at most)'] }],
    ],
    [
      'refuses a power that is never switched on',
      facts({ toolpath: silent(word('S', 800)) }),
      [{ messageId: 'notOn', says: ['S (800 at most)', 'neither M3 nor M4'] }],
    ],
    [
      'refuses a program without a word for a beam',
      facts({ toolpath: silent() }),
      [{ messageId: 'none', says: ['no word for a beam'], at: 'coaster.gcode:1' }],
    ],
    ['leaves a program without motion to another rule', facts({ toolpath: toolpath({ moves: 0 }) }), 'moves'],
    ['has nothing to judge in artwork', artworkOnly(), 'no toolpath'],
  ]),
  ...casesOf('toolpath/after-end', [
    ['accepts a program that ends once', facts(), []],
    [
      'refuses motion with the beam on, and leaves aside what runs without it',
      facts({
        toolpath: toolpath({
          problems: [
            problem('after-end', { by: 'M2', powered: 0, lines: 1 }, 31),
            problem('after-end', { by: 'M2', powered: 1, lines: 2 }, 33),
          ],
        }),
      }),
      [{ messageId: 'powered', severity: 'error', says: ['2 lines', 'behind M2'], at: 'coaster.gcode:33' }],
    ],
    [
      'notes motion without the beam',
      facts({ toolpath: toolpath({ problems: [problem('after-end', { by: '%', powered: 0, lines: 1 }, 31)] }) }),
      [{ messageId: 'unpowered', severity: 'note', says: ['1 line', 'stands behind %'] }],
    ],
    ['has nothing to judge in artwork', artworkOnly(), 'no toolpath'],
  ]),
  ...casesOf('toolpath/off-sheet', [
    ['accepts a job on the sheet', facts({ onSheet: lying({ byMm: -5, beyond: 0, line: null }) }), []],
    ['accepts rounding', facts({ onSheet: lying({ byMm: 0.1 }) }), []],
    [
      'refuses a job that reaches beyond it',
      facts({ onSheet: lying({}) }),
      [{ messageId: 'off', says: ['3 strokes', '30.0 mm beyond', '300.0 × 200.0 mm', 'in X'], at: 'coaster.gcode:12' }],
    ],
    [
      'refuses a job larger than the sheet where the place is left to the person',
      facts({ onSheet: lying({ sizeOnly: true, beyond: 0, line: null, sizeMm: 330 }) }),
      [{ messageId: 'tooLarge', says: ['330.0 mm long in X', '30.0 mm more than the sheet'] }],
    ],
    ['obeys its option', facts({ onSheet: lying({ byMm: 0.3 }) }), [{ messageId: 'off' }], { slack: 0.2 }],
    [
      'says why the place is not known',
      facts({ onBedUnknown: 'G92 on line 3 moves the work' }),
      'G92 on line 3 moves the work',
    ],
    ['has nothing to judge without a sheet', facts({ input: { sidecar: sidecar({ sheet: null }) } }), 'no sheet'],
    [
      'leaves a program that never fires to another rule',
      facts({ toolpath: toolpath({ poweredBoundsMm: null }) }),
      'not fire',
    ],
    ['has nothing to judge in artwork', artworkOnly(), 'no toolpath'],
  ]),
];
