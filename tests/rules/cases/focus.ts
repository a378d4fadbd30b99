import { cut, facts, machine, material, pass, plannedTask, prediction, sidecar, task } from '../build-facts.ts';
import { casesOf } from '../case.ts';

const focused = (...focusMm: number[]) => facts({ cuts: [cut({ passes: focusMm.map((f) => pass({ focusMm: f })) })] });

const passes = (probability: number, withStep: number | null, ...focusMm: number[]) =>
  facts({
    cuts: [
      cut({
        passes: focusMm.map((f) => pass({ focusMm: f })),
        prediction: prediction({ throughProbability: probability }),
        throughWithFocusStep: withStep,
      }),
    ],
  });
const bowed = (bowMm: number) => facts({ input: { sidecar: sidecar({ bowMm }) } });

export const focusCases = [
  // Sheet over depth of focus at a 7 mm beam, M² 1.2: 6 mm under 2 in 3.5; 12.7 mm under 1.5 in 13; 12.7 mm under 4 in 1.9.
  ...casesOf('focus/lens-too-short', [
    ['accepts 6 mm under a 2 in lens', facts({ beam: { depthOfFocusMm: 1.71 } }), []],
    ['accepts 12.7 mm under a 4 in lens', facts({ thicknessMm: 12.7, beam: { depthOfFocusMm: 6.82 } }), []],
    [
      'warns of 12.7 mm under a 1.5 in lens and names a longer lens that is predicted to be better',
      facts({
        thicknessMm: 12.7,
        beam: { depthOfFocusMm: 0.96 },
        cuts: [cut({ prediction: prediction({ throughProbability: 0.4 }) })],
        longerLens: { lens: '4in', focalMm: 101.6, throughProbability: 0.7 },
      }),
      [
        {
          messageId: 'tooShort',
          says: [
            '12.7 mm birch plywood',
            '13.2 times',
            'Above 5 times',
            'Fit the 4in lens',
            '70 % likely, against 40 %',
          ],
        },
      ],
    ],
    [
      'names no lens when this is the longest',
      facts({ thicknessMm: 60, beam: { depthOfFocusMm: 6.82 }, lens: machine().lenses[1]! }),
      [{ messageId: 'noLonger', says: ['expect the taper.'] }],
    ],
    [
      'advises no longer lens that is predicted to be worse, and says so',
      facts({
        thicknessMm: 12.7,
        beam: { depthOfFocusMm: 0.96 },
        longerLens: { lens: '4in', focalMm: 101.6, throughProbability: 0.93 },
      }),
      [{ messageId: 'noLonger', says: ['no longer lens of this machine is clearly surer to part it'] }],
    ],
    [
      'advises none where nothing was predicted',
      facts({
        thicknessMm: 12.7,
        beam: { depthOfFocusMm: 0.96 },
        cuts: [],
        longerLens: { lens: '4in', focalMm: 101.6, throughProbability: 0.99 },
      }),
      [{ messageId: 'noLonger' }],
    ],
    [
      'exempts soft foam',
      facts({ thicknessMm: 30, material: material({ traits: { softFoam: true } }) }),
      'soft foam is exempt',
    ],
    [
      'has nothing to judge when nothing must go through',
      facts({ tasks: [task({ aim: 'surface' }, plannedTask({ aim: 'surface' }))] }),
      'go through',
    ],
    ['obeys its ratio', facts(), [{ messageId: 'noLonger', says: ['Above 2 times'] }], { ratio: 2 }],
  ]),
  ...casesOf('focus/outside-sheet', [
    ['accepts the focus on the face', focused(0), []],
    ['accepts one Rayleigh range above the face and below the bottom', focused(1.2, -7.2), []],
    [
      'warns of a waist high above the face',
      focused(3),
      [{ messageId: 'above', says: ['3.0 mm above the face', '1.2 mm'], at: 'coaster.gcode:6' }],
    ],
    [
      'warns when a later pass has gone below the bottom, once a task',
      facts({ cuts: [focused(0, -8).cuts[0]!, focused(0, -9).cuts[0]!] }),
      [{ messageId: 'below', says: ['Pass 2', '8.0 mm below the face', '6.0 mm sheet'] }],
    ],
    ['leaves surfaces alone', facts({ cuts: [cut({ aim: 'surface', passes: [pass({ focusMm: 8 })] })] }), []],
    ['has nothing to judge without a lens', facts({ beam: null }), 'lens'],
  ]),
  ...casesOf('focus/unchanged-over-passes', [
    ['accepts passes that suffice as they are', passes(0.95, 0.99, 0, 0), []],
    [
      'warns where lowering the focus would bring the cut through',
      passes(0.6, 0.94, 0, 0),
      [
        {
          messageId: 'unchanged',
          says: ['2 passes', 'on the face each time', '60 % likely', 'then it is 94 %', '90 % is asked'],
        },
      ],
    ],
    ['accepts a focus that moves', passes(0.6, null, 0, -2), []],
    ['accepts one pass, whatever is known of others', passes(0.6, 0.94, 0), []],
    ['accepts a focus that moves, though another step would do better', passes(0.6, 0.94, 0, -2), []],
    [
      'warns once a task',
      facts({ cuts: [passes(0.6, 0.94, 0, 0).cuts[0]!, passes(0.5, 0.94, 0, 0).cuts[0]!] }),
      [{ messageId: 'unchanged', says: ['60 % likely'] }],
    ],
    ['says nothing of a gain that is not known', passes(0.6, null, 0, 0), []],
    ['leaves cuts alone that a moving focus does not help', passes(0.6, 0.65, 0, 0), []],
    ['obeys its gain', passes(0.6, 0.65, 0, 0), [{ messageId: 'unchanged' }], { gain: 0.02 }],
    ['is not applicable without a through cut', facts({ cuts: [] }), 'no cut'],
  ]),
  ...casesOf('focus/lens-unknown', [
    ['accepts one of the machine’s lenses', facts(), []],
    [
      'refuses another and lists the machine’s',
      facts({ lens: null, input: { sidecar: sidecar({ lens: '3in' }) } }),
      [{ messageId: 'unknown', says: ['"3in"', '"shed-60w"', '"2in", "4in"'] }],
    ],
    [
      'has nothing to judge when none is named',
      facts({ input: { sidecar: sidecar({ lens: null }) } }),
      'no lens is named',
    ],
  ]),
  ...casesOf('focus/sheet-not-flat', [
    ['accepts a bow within the Rayleigh range', bowed(1.2), []],
    ['warns of a larger one', bowed(2), [{ messageId: 'bow', says: ['2.0 mm', '1.2 mm'] }]],
    ['obeys its option', bowed(2), [], { 'rayleigh-ranges': 2 }],
    ['has nothing to judge when no bow is stated', facts(), 'no bow'],
  ]),
  ...casesOf('focus/lens-assumed', [
    ['accepts a lens that is named', facts(), []],
    ['notes the one that was taken', facts({ lensAssumed: true }), [{ messageId: 'assumed', says: ['2in'] }]],
    ['has nothing to judge without a lens', facts({ lens: null }), 'no lens'],
  ]),
];
