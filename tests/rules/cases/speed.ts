import { artworkOnly, at, cut, facts, machine, pass, plannedTask, sidecar, task } from '../build-facts.ts';
import { problem, toolpath } from '../build-files.ts';
import { casesOf } from '../case.ts';

const planning = (speedMmPerS: number | null, aim: 'through' | 'groove' = 'through') => [
  task({ aim }, plannedTask({ speedMmPerS, aim })),
];

const reaching = (belowShare: number, reachedMmPerS: number) =>
  facts({ speeds: [{ belowShare, reachedMmPerS, programmedMmPerS: 12, location: at('coaster.gcode', 7) }] });

const running = (programmedMmPerS: number) => facts({ cuts: [cut({ passes: [pass({ programmedMmPerS })] })] });

export const speedCases = [
  ...casesOf('speed/above-machine', [
    ['accepts the machine’s top speed', facts({ toolpath: toolpath({ highestSpeed: { mmPerS: 500 } }) }), []],
    [
      'warns above it',
      facts({ toolpath: toolpath({ highestSpeed: { mmPerS: 720, place: at('', 9) } }) }),
      [{ messageId: 'programmed', says: ['720 mm/s', 'F43200', '500 mm/s'], at: 'coaster.gcode:9' }],
    ],
    ['warns of a planned speed', facts({ tasks: planning(800) }), [{ messageId: 'planned', says: ['800 mm/s'] }]],
    [
      'has nothing to judge when the profile states no motion',
      facts({ machine: machine({ motion: { stated: false } }) }),
      'states no `motion`',
    ],
  ]),
  ...casesOf('speed/missing-feed', [
    ['accepts a program with feed rates', facts(), []],
    [
      'refuses moves without one, all in one finding',
      facts({ toolpath: toolpath({ problems: [{ ...problem('missing-feed'), more: 11 }] }) }),
      [{ messageId: 'none', says: ['12 moves run'], at: 'coaster.gcode:8' }],
    ],
    [
      'refuses F0',
      facts({
        toolpath: toolpath({ problems: [problem('zero-feed', { feed: 0 }), problem('zero-feed', { feed: 0 }, 12)] }),
      }),
      [{ messageId: 'zero', says: ['set to 0 (2 times in this file). Write'], related: 1 }],
    ],
    [
      'warns when artwork alone has a groove without speed',
      artworkOnly({ tasks: planning(null, 'groove') }),
      [{ messageId: 'planned', severity: 'warning', says: ['"outline"'] }],
    ],
    ['leaves what must go through to what the machine can do', artworkOnly({ tasks: planning(null) }), []],
    [
      'leaves a toolpath that is named and cannot be read to input/unreadable',
      artworkOnly({ input: { sidecar: sidecar({ toolpath: 'coaster.gcode' }) }, tasks: planning(null) }),
      'could not be read',
    ],
    ['accepts artwork alone with a planned speed', artworkOnly({ tasks: planning(12) }), []],
    ['has nothing to judge in bare artwork', artworkOnly({ tasks: [task({}, null)] }), 'states a speed'],
  ]),
  ...casesOf('speed/never-reached', [
    ['accepts a speed that is reached', facts(), []],
    ['accepts one that is missed in corners only', reaching(0.3, 6), []],
    [
      'warns of a speed that is never reached at constant power',
      facts({ ...reaching(0.9, 4), cuts: [cut({ passes: [pass({ scaled: false })] })] }),
      [{ messageId: 'constant', says: ['12 mm/s and reaches 4 mm/s', '90 %', '3 times'], at: 'coaster.gcode:7' }],
    ],
    [
      'only notes it where power follows the speed',
      reaching(0.9, 4),
      [{ messageId: 'scaled', severity: 'note', says: ['follows the speed down', 'plan for the longer time'] }],
    ],
    ['obeys its share', reaching(0.3, 4), [{ messageId: 'scaled', severity: 'note' }], { share: 0.2 }],
    [
      'has nothing to judge when the profile states no motion',
      facts({ machine: machine({ motion: { stated: false } }) }),
      'motion',
    ],
  ]),
  ...casesOf('speed/units-suspect', [
    ['accepts the planned speed', facts(), []],
    ['leaves another difference to match/settings-differ', running(20), []],
    [
      'refuses a speed sixty times too slow',
      running(0.2),
      [
        {
          messageId: 'planned',
          severity: 'error',
          says: ['0.2 mm/s', '12 mm/s is planned, 60 times slower', 'written in mm/s', 'F720'],
        },
      ],
    ],
    [
      'refuses one sixty times too fast',
      running(720),
      [{ messageId: 'planned', severity: 'error', says: ['60 times faster'] }],
    ],
    [
      'warns of a crawl when nothing is planned',
      facts({ ...running(0.2), tasks: [task({}, null)] }),
      [{ messageId: 'crawling', says: ['F12 mm/min', 'F720'] }],
    ],
    ['has nothing to judge in artwork', artworkOnly(), 'no toolpath'],
  ]),
];
