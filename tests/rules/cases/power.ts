import type { ScaleDoubt } from '../../../src/facts/power-scale/power-scale.ts';
import { everything } from '../../../src/units/found.ts';
import { artworkOnly, at, cut, facts, machine, pass, plannedTask, task } from '../build-facts.ts';
import { problem, rasterArea, toolpath } from '../build-files.ts';
import { casesOf } from '../case.ts';

const planning = (power: { fraction: number } | { watts: number }) => [task({}, plannedTask({ power }))];
/** The machine with a key that its profile leaves open. */
const assuming = (key: string) =>
  machine({ assumed: [{ key, value: 'as usual', unit: null, spread: 0, basis: 'memory' }] });
const doubt = (change: Partial<ScaleDoubt> = {}): ScaleDoubt => ({
  kind: 'planned',
  raw: 204,
  share: 0.204,
  full: 1000,
  scale: 255,
  planned: 0.8,
  place: at('coaster.gcode', 6),
  ...change,
});
const unpowered = (n: number) =>
  Array.from({ length: n }, (_, i) => ({ outline: i, location: at('coaster.svg', 4 + i) }));

export const powerCases = [
  ...casesOf('power/above-source-limit', [
    ['accepts full power', facts({ toolpath: toolpath({ highestSetting: { value: 1, raw: 1000 } }) }), []],
    [
      'refuses S1200 of 1000',
      facts({ toolpath: toolpath({ highestSetting: { value: 1.2, raw: 1200 } }) }),
      [{ messageId: 'programmed', says: ['S1200', '120 %', '1000'], at: 'coaster.gcode:6' }],
    ],
    [
      'names the word when power does not come by S',
      facts({
        machine: machine({ controller: { power: { word: 'M106', full: 255 } } }),
        toolpath: toolpath({ highestSetting: { value: 1.2, raw: 306 } }),
      }),
      [{ messageId: 'programmed', says: ['306 by M106', '255'] }],
    ],
    [
      'refuses planned watts that the source does not give',
      facts({ tasks: planning({ watts: 60 }) }),
      [{ messageId: 'planned', says: ['60 W', '54 W', 'measured'] }],
    ],
    [
      'leaves what seems to be counted on another scale to the rule that says so',
      facts({
        toolpath: toolpath({ highestSetting: { value: 1.2, raw: 1200 } }),
        scaleDoubt: doubt({ raw: 1200, share: 1.2 }),
      }),
      [],
    ],
    ['accepts planned watts within reach', facts({ tasks: planning({ watts: 54 }) }), []],
    ['has nothing to judge without a machine', facts({ machine: null }), 'machine is not known'],
  ]),
  ...casesOf('power/below-firing-floor', [
    ['accepts a setting at the floor', facts({ cuts: [cut({ passes: [pass({ setting: 0.1 })] })] }), []],
    [
      'refuses cuts below the floor, in one finding',
      facts({ cuts: [cut({ passes: [pass({ setting: 0.06 })] }), cut({ passes: [pass({ setting: 0.08 })] })] }),
      [{ messageId: 'below', says: ['6 %', '10 %', '2 cuts', '600.0 mm'], at: 'coaster.gcode:6' }],
    ],
    ['leaves unpowered cuts to another rule', facts({ cuts: [cut({ passes: [pass({ setting: 0 })] })] }), []],
    ['accepts faint tones in a picture', facts({ toolpath: toolpath({ areas: [rasterArea(0.4)] }) }), []],
    [
      'warns of a picture that is faint all over',
      facts({ toolpath: toolpath({ areas: [rasterArea(0.07)] }) }),
      [{ messageId: 'image', severity: 'warning', says: ['7 %'], at: 'coaster.gcode:40' }],
    ],
    [
      'only notes cuts below a floor that is assumed, and says that it is',
      facts({
        cuts: [cut({ passes: [pass({ setting: 0.06 })] })],
        toolpath: toolpath({ areas: [rasterArea(0.07)] }),
        machine: assuming('source.floor'),
      }),
      [{ messageId: 'assumed', severity: 'note', says: ['6 %', 'states none', '10 % is assumed'] }],
    ],
    [
      'is held back where the scale is in doubt',
      facts({ cuts: [cut({ passes: [pass({ setting: 0.06 })] })], scaleDoubt: doubt() }),
      'another scale',
    ],
    [
      'has nothing to judge when the profile states no floor',
      facts({ machine: machine({ source: { floor: null } }) }),
      'no firing floor',
    ],
  ]),
  ...casesOf('power/zero-on-cut', [
    ['accepts powered outlines', facts(), []],
    [
      'refuses outlines without power, in one finding a task, with five related places',
      facts({ tasks: [task({ unpoweredOutlines: everything(unpowered(9)) })] }),
      [{ messageId: 'unpowered', says: ['9 outlines', '"outline"'], at: 'coaster.svg:4', related: 5 }],
    ],
    ['has nothing to judge without tasks', facts({ tasks: [] }), 'no task'],
  ]),
  ...casesOf('power/above-recommended', [
    ['accepts the ceiling', facts({ toolpath: toolpath({ highestSetting: { value: 0.85, raw: 850 } }) }), []],
    [
      'warns above it, with what the beam time costs in tube life',
      facts({
        toolpath: toolpath({ highestSetting: { value: 0.95, raw: 950 } }),
        time: { cuttingS: 3600, rasterS: 0 },
      }),
      // 420 EUR for 2000 h is 0.21 EUR for the hour of beam.
      [
        {
          messageId: 'above',
          says: ['95 %', '85 %', '2000 h', '1 h of beam cost 0.21 EUR', '89.5 %'],
          at: 'coaster.gcode:6',
        },
      ],
    ],
    [
      'leaves out a cost of less than a cent',
      facts({
        toolpath: toolpath({ highestSetting: { value: 0.95, raw: 950 } }),
        time: { cuttingS: 60, rasterS: 0 },
      }),
      [{ messageId: 'above', says: ['faster than the 2000 h it is priced for.'] }],
    ],
    [
      'reads planned settings where there is no toolpath, and leaves the cost out where it is not known',
      artworkOnly({
        cuts: [cut({ passes: [pass({ setting: 1 })] })],
        machine: machine({ rates: { tube: null } }),
      }),
      [{ messageId: 'above', says: ['100 %', 'ages faster.'] }],
    ],
    [
      'only notes what is above a ceiling that is assumed, and says that it is',
      facts({
        toolpath: toolpath({ highestSetting: { value: 0.95, raw: 950 } }),
        machine: assuming('source.ceiling'),
      }),
      [{ messageId: 'assumed', severity: 'note', says: ['95 %', 'states none', '85 % is assumed'] }],
    ],
    [
      'is held back where the scale is in doubt',
      facts({ toolpath: toolpath({ highestSetting: { value: 0.95, raw: 950 } }), scaleDoubt: doubt() }),
      'another scale',
    ],
    [
      'leaves more than full power to its own rule',
      facts({ toolpath: toolpath({ highestSetting: { value: 24, raw: 24000 } }) }),
      [],
    ],
    [
      'has nothing to judge when the profile states no ceiling',
      facts({ machine: machine({ source: { ceiling: null } }) }),
      'no ceiling',
    ],
  ]),
  ...casesOf('power/rated-only', [
    ['accepts a measured source', facts(), []],
    [
      'notes a source that was never measured',
      facts({ power: { basis: 'rated', spread: 0.15 } }),
      [{ messageId: 'rated', says: ['60 W', '± 15 %'] }],
    ],
    [
      'accepts one whose power is in the coupons that were cut with it',
      facts({ power: { basis: 'rated', spread: 0.15 }, calibratedHere: true }),
      [],
    ],
    ['has nothing to judge without a machine', facts({ machine: null, power: null }), 'machine is not known'],
  ]),
  ...casesOf('power/measurement-stale', [
    ['accepts a reading of this year', facts(), []],
    // 2025-09-01 to 2026-11-25 by the calendar: 365 + 85 days.
    [
      'notes one of last year, by the run’s own date',
      facts({ machine: machine({ source: { measuredOn: '2025-09-01' } }) }),
      [{ messageId: 'old', says: ['2025-09-01, 450 days ago', 'After 365 days'] }],
    ],
    [
      'counts leap days',
      facts({ machine: machine({ source: { measuredOn: '2024-02-28' } }), today: '2024-03-01' }),
      [{ messageId: 'old', says: ['2 days ago'] }],
      { days: 1 },
    ],
    ['accepts the last day', facts({ machine: machine({ source: { measuredOn: '2025-11-25' } }) }), []],
    [
      'notes a reading without a date',
      facts({ machine: machine({ source: { measuredOn: null } }) }),
      [{ messageId: 'undated' }],
    ],
    ['leaves a date that is none alone', facts({ machine: machine({ source: { measuredOn: 'spring' } }) }), []],
    ['has nothing to judge when the power was never measured', facts({ power: { basis: 'rated' } }), 'never measured'],
  ]),
  ...casesOf('power/uneven-bed', [
    ['accepts 95 % at the far corner', facts(), []],
    [
      'warns of 80 %',
      facts({ machine: machine({ source: { atCorners: 0.8 } }) }),
      [{ messageId: 'uneven', says: ['80 %', 'Below 90 %'] }],
    ],
    [
      'has nothing to judge when it is not stated',
      facts({ machine: machine({ source: { atCorners: null } }) }),
      'corners',
    ],
  ]),
  ...casesOf('power/scale-mismatch', [
    ['accepts the planned share on the controller’s scale', facts(), []],
    [
      // 0.8 × 255 = 204.
      'refuses 204 of 1000 where 80 % is planned',
      facts({ toolpath: toolpath({ highestSetting: { value: 0.204, raw: 204 } }) }),
      [{ messageId: 'planned', severity: 'error', says: ['204', '20.4 %', '80 % is planned', 'scale of 255', '80 %'] }],
    ],
    [
      'leaves another difference to match/settings-differ',
      facts({ toolpath: toolpath({ highestSetting: { value: 0.5, raw: 500 } }) }),
      [],
    ],
    [
      'warns of exactly 255 when nothing is planned',
      facts({ tasks: [task({}, null)], toolpath: toolpath({ highestSetting: { value: 0.255, raw: 255 } }) }),
      [{ messageId: 'topped', severity: 'warning', says: ['255', '25.5 %'] }],
    ],
    [
      // 1000 / 255 = 3.92.
      'warns of exactly 1000 on a scale of 255 when nothing is planned',
      facts({
        tasks: [task({}, null)],
        machine: machine({ controller: { power: { word: 'S', full: 255 } } }),
        toolpath: toolpath({ highestSetting: { value: 1000 / 255, raw: 1000 } }),
      }),
      [{ messageId: 'topped', severity: 'warning', says: ['1000', '392 %', 'full 255'] }],
    ],
    [
      'accepts a round share',
      facts({ tasks: [], toolpath: toolpath({ highestSetting: { value: 0.1, raw: 100 } }) }),
      [],
    ],
    [
      'tells that the program sets a scale of its own, and nothing else of the scale',
      facts({
        toolpath: toolpath({
          highestSetting: { value: 0.8, raw: 204 },
          problems: [problem('other-scale', { text: '$30=255', what: 'full', set: 255 }, 2)],
        }),
      }),
      [{ messageId: 'set', severity: 'warning', says: ['to 255 ("$30=255")', 'says 1000'], at: 'coaster.gcode:2' }],
    ],
    [
      'tells that the program sets what M4 does',
      facts({
        toolpath: toolpath({ problems: [problem('other-scale', { text: '$32=0', what: 'm4', set: 'constant' }, 2)] }),
      }),
      [{ messageId: 'scaling', severity: 'warning', says: ['holds the power constant', '`m4: scaled-with-speed`'] }],
    ],
    [
      'says nothing of M4 where the profile does not',
      facts({
        machine: assuming('controller.m4'),
        toolpath: toolpath({ problems: [problem('other-scale', { text: '$32=0', what: 'm4', set: 'constant' }, 2)] }),
      }),
      [],
    ],
    ['has nothing to judge without power', facts({ toolpath: toolpath({ highestSetting: null }) }), 'sets no power'],
  ]),
];
