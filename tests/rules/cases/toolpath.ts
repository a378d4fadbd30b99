import type { BeamCommand, Dwell } from '../../../src/model/toolpath.ts';
import { everything } from '../../../src/units/found.ts';
import { artworkOnly, at, facts, machine, sidecar } from '../build-facts.ts';
import { problem, strokesThrough, toolpath } from '../build-files.ts';
import { casesOf } from '../case.ts';

const gating = (change: { beamOffOnRapid?: boolean | null; beamOffWhenStopped?: boolean | null }) =>
  machine({ controller: change });
const poweredTravel = toolpath({ poweredRapids: { count: 3, lengthMm: 120, first: at('', 14), setting: 0.8 } });
/** How G-code's words command the beam. */
const BEAM: Record<'M3' | 'M4' | 'off', BeamCommand> = {
  M3: { mode: 'on', word: 'M3' },
  M4: { mode: 'on-in-motion', word: 'M4' },
  off: { mode: 'off', word: 'off' },
};
const dwell = (seconds: number, word: keyof typeof BEAM, setting = 0.7, line = 20): Dwell => ({
  place: at('', line),
  seconds,
  setting,
  beam: BEAM[word],
  pause: false,
  x: 5,
  y: 5,
});
const dwelling = (...dwells: Dwell[]) => toolpath({ dwells: everything(dwells) });
const ending = (word: keyof typeof BEAM, by: 'M2' | null, setting = 0.7) =>
  toolpath({ end: { beam: BEAM[word], stated: by !== null, setting } });
const notAnalysed = (what: string, text: string, line: number) =>
  problem('not-analysed', { what, text, lines: 2 }, line);

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
    ['accepts powered rapids where the controller gates them', facts({ toolpath: poweredTravel }), []],
    [
      'refuses them where it does not, all in one finding',
      facts({ toolpath: poweredTravel, machine: gating({ beamOffOnRapid: false }) }),
      [{ messageId: 'burns', says: ['3 rapids run', '120.0 mm', '80 %'], at: 'coaster.gcode:14' }],
    ],
    [
      'notes them once where nobody knows',
      facts({ toolpath: poweredTravel, machine: gating({ beamOffOnRapid: null }) }),
      [{ messageId: 'unknown', severity: 'note', says: ['whether G0 switches the beam off'] }],
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
      'refuses codes that are not followed, and says how the profile can name them',
      facts({
        toolpath: toolpath({
          analysed: false,
          problems: [
            notAnalysed('cutter-compensation', 'G41', 4),
            notAnalysed('output', 'M42', 6),
            notAnalysed('output', 'M62', 7),
          ],
        }),
      }),
      [
        { messageId: 'code', severity: 'error', says: ['"G41" (cutter radius compensation, 2 lines)'] },
        { messageId: 'code', says: ['"M42", "M62"', '4 lines', 'harmless: { M42: … }'], related: 1 },
      ],
    ],
    [
      'refuses lines that a switch leaves out or not',
      facts({
        toolpath: toolpath({ analysed: false, problems: [notAnalysed('block-delete', 'the block-delete slash', 4)] }),
      }),
      [{ messageId: 'blockDelete', severity: 'error', says: ['2 lines', 'block-delete: runs'] }],
    ],
    [
      'only notes what is for the controller or the sender, and what bears on the time',
      facts({
        toolpath: toolpath({
          problems: [notAnalysed('passed-over', '$$', 2), notAnalysed('motion-limits', 'M201', 3)],
        }),
      }),
      [
        { messageId: 'passedOver', severity: 'note', says: ['2 lines', '"$$"'] },
        { messageId: 'limits', severity: 'note', says: ['"M201"'] },
      ],
    ],
    [
      'does not let a note hide that the program could not be followed for another reason',
      facts({ toolpath: toolpath({ analysed: false, problems: [notAnalysed('passed-over', '$$', 2)] }) }),
      [{ messageId: 'passedOver', severity: 'note' }, { messageId: 'unfollowed' }],
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
            {
              ...problem('arc-mismatch', {
                startRadiusMm: 5,
                endRadiusMm: 5.08,
                differenceMm: 0.08,
                toleranceMm: 0.05,
              }),
              more: 1,
            },
          ],
        }),
      }),
      [{ messageId: 'mismatch', says: ['2 arcs do not close up', '5 mm and ends 5.08 mm', '0.05 mm'] }],
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
  ...casesOf('toolpath/wrong-kind', [
    ['accepts a program for a laser', facts(), []],
    [
      'refuses one for filament',
      facts({
        toolpath: toolpath({ problems: [problem('wrong-kind', { kind: 'extruder', evidence: '40 E words' })] }),
      }),
      [{ messageId: 'kind', says: ['melts filament', '40 E words'] }],
    ],
    [
      'refuses one for a kind that it has no name for',
      facts({ toolpath: toolpath({ problems: [problem('wrong-kind', { kind: 'loom', evidence: '9 shuttles' })] }) }),
      [{ messageId: 'kind', says: ['another kind of machine', '9 shuttles'] }],
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
      'refuses units stated by words of two standards, and warns of two statements ahead of all motion',
      facts({
        toolpath: toolpath({
          problems: [
            problem('units-changed', { from: 'mm', to: 'inch', how: 'ahead', first: 'G21', second: 'G20' }, 2),
            problem('units-changed', { from: 'inch', to: 'mm', how: 'mixed', first: 'G20', second: 'G71' }, 3),
          ],
        }),
      }),
      [
        {
          messageId: 'mixed',
          severity: 'error',
          says: ['G20 and later G71', '25.4 times smaller'],
          at: 'coaster.gcode:3',
        },
        { messageId: 'ahead', severity: 'warning', says: ['G21 and then G20', 'read in inch', '25.4 times larger'] },
      ],
    ],
    [
      'warns of a job that fits the machine only when its inches are millimetres',
      facts({
        toolpath: toolpath({ units: 'inch', poweredBoundsMm: { minX: 0, minY: 0, maxX: 2032, maxY: 1778 } }),
        artwork: null,
      }),
      [{ messageId: 'large', says: ['Read in inches', '2032.0 × 1778.0 mm', '80.0 × 70.0 mm'] }],
    ],
    [
      'warns of a job 25.4 times smaller than its artwork',
      facts({ toolpath: toolpath({ poweredBoundsMm: { minX: 0, minY: 0, maxX: 3.15, maxY: 2.76 } }) }),
      [{ messageId: 'small', says: ['Read in millimetres', '3.15 × 2.76 mm', '80.0 × 70.0 mm'] }],
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
      facts({ toolpath: toolpath({ end: { stated: false } }) }),
      [{ messageId: 'noEnd', says: ['30 lines'] }],
    ],
    [
      'leaves an empty program to input/syntax',
      facts({ toolpath: toolpath({ moves: 0, end: { stated: false } }) }),
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
];
