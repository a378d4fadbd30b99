import type { JobFacts } from '../../../src/facts/facts.ts';
import { at, facts, sidecar } from '../build-facts.ts';
import { artwork, problem, toolpath } from '../build-files.ts';
import { casesOf } from '../case.ts';

const written = (
  text: string,
  line: number,
  code = 'wrong-value',
  unreadable = false,
): JobFacts['inputProblems'][number] => ({
  file: 'coaster.job.yaml',
  problem: { code, place: at('coaster.job.yaml', line), args: { text } },
  severity: 'error',
  unreadable,
});
const inProgram = (...problems: Parameters<typeof problem>[]) =>
  facts({ toolpath: toolpath({ problems: problems.map((one) => problem(...one)) as never }) });
const inDrawing = (...problems: Parameters<typeof problem>[]) =>
  facts({ artwork: artwork({ problems: problems.map((one) => problem(...one)) as never }) });

export const inputCases = [
  ...casesOf('input/not-filled-in', [
    ['accepts a form that is filled in', facts(), []],
    [
      'names the lines that wait for a value, all in one finding',
      facts({
        input: {
          sidecar: sidecar({
            unfilled: [
              { key: 'machine', location: at('coaster.job.yaml', 3) },
              { key: 'task 1, power', location: at('coaster.job.yaml', 14) },
            ],
          }),
        },
      }),
      [
        {
          messageId: 'fill',
          says: ['has 2 lines without a value', 'machine (line 3), task 1, power (line 14)'],
          at: 'coaster.job.yaml:3',
        },
      ],
    ],
    ['has nothing to judge in a bare file', facts({ input: { sidecar: null } }), 'no sidecar'],
  ]),
  ...casesOf('input/unreadable', [
    ['accepts files that can be read', facts({ inputProblems: [written('Unknown key.', 3)] }), []],
    [
      'names what cannot be read',
      facts({ inputProblems: [written('The toolpath "coaster.gcode" is not there', 9, 'unreadable', true)] }),
      [{ messageId: 'unreadable', says: ['"coaster.gcode" is not there. Put'], at: 'coaster.job.yaml:9' }],
    ],
  ]),
  ...casesOf('input/assumed', [
    ['is silent when nothing was assumed', facts(), []],
    [
      'passes on the loader’s remarks',
      facts({
        remarks: [
          { text: 'pvc.material.yaml counted only where it is stricter.', location: at('pvc.material.yaml', 2) },
        ],
      }),
      [{ messageId: 'remark', says: ['stricter'], at: 'pvc.material.yaml:2' }],
    ],
  ]),
  ...casesOf('input/syntax', [
    ['accepts sound files', facts(), []],
    [
      'passes on what the loader says, at its place',
      facts({ inputProblems: [written('the key "lense" is not known: did you mean lens?', 5)] }),
      [{ messageId: 'file', says: ['did you mean lens?'], at: 'coaster.job.yaml:5' }],
    ],
    [
      'lists ten of many problems and counts the rest',
      facts({ inputProblems: Array.from({ length: 14 }, (_, i) => written(`Problem ${i}.`, i + 1)) }),
      [
        ...Array.from({ length: 10 }, () => ({ messageId: 'file' })),
        { messageId: 'manyMore', says: ['4 more problems'] },
      ],
    ],
    [
      'counts those that the loader itself only counted',
      facts({
        inputProblems: Array.from({ length: 3 }, (_, i) => {
          const one = written(`Problem ${i}.`, i + 1);
          return i < 2 ? one : { ...one, problem: { ...one.problem, more: 7 } };
        }),
      }),
      [
        ...Array.from({ length: 3 }, () => ({ messageId: 'file' })),
        { messageId: 'manyMore', says: ['Not listed here: 7 more problems in coaster.job.yaml'] },
      ],
    ],
    [
      'leaves an unknown material to material/unknown',
      facts({
        material: null,
        materialName: 'birtch',
        inputProblems: [written('No material "birtch".', 4, 'unknown-id')],
      }),
      [],
    ],
    [
      'puts many words of one kind into one finding',
      inProgram(
        ['unreadable-word', { text: 'X1,5', reason: 'a comma stands in the number' }],
        ['unreadable-word', { text: 'Y--5', reason: 'two signs' }, 9],
      ),
      [
        {
          messageId: 'word',
          says: ['"X1,5" cannot be taken (2 times in this file): a comma'],
          at: 'coaster.gcode:8',
          related: 1,
        },
      ],
    ],
    [
      'names a line that is too long',
      inProgram(['line-too-long', { length: 200000, limit: 65536 }]),
      [{ messageId: 'lineTooLong', says: ['200000', '65536'] }],
    ],
    ['names a binary file', inProgram(['binary', { byte: 0 }]), [{ messageId: 'binary', says: ['byte 0'] }]],
    ['names an empty program', inProgram(['empty']), [{ messageId: 'emptyToolpath' }]],
    ['names an arc without a centre', inProgram(['arc-no-centre']), [{ messageId: 'arcNoCentre' }]],
    [
      'names an arc that cannot span its ends',
      inProgram(['arc-radius-too-small', { radiusMm: 2, chordMm: 8 }]),
      [{ messageId: 'arcRadius', says: ['2 mm', '8 mm'] }],
    ],
    [
      'names a negative power',
      inProgram(['negative-power', { value: -5 }]),
      [{ messageId: 'negativePower', says: ['-5'] }],
    ],
    [
      'warns of power without a beam',
      inProgram(['power-without-beam', { value: 800 }]),
      [{ messageId: 'noBeam', severity: 'warning', says: ['800'] }],
    ],
    [
      'names a number out of range',
      inProgram(['number-out-of-range', { text: '1e400', limit: '1000000 mm' }]),
      [{ messageId: 'toolpathNumber', says: ['"1e400" is beyond 1000000 mm'] }],
    ],
    [
      'warns of a checksum',
      inProgram(['checksum', { text: 'G1 X5*3' }]),
      [{ messageId: 'checksum', severity: 'warning' }],
    ],
    ['leaves other codes to their rules', inProgram(['missing-feed'], ['arc-mismatch'], ['modal-conflict']), []],
    [
      'names broken XML',
      inDrawing(['not-xml', { reason: 'an element is not closed' }]),
      [{ messageId: 'notXml', says: ['an element is not closed'] }],
    ],
    ['names another root', inDrawing(['not-svg', { root: 'html' }]), [{ messageId: 'notSvg', says: ['"html"'] }]],
    ['names an empty drawing', inDrawing(['empty']), [{ messageId: 'emptyArtwork' }]],
    ['refuses compression', inDrawing(['compressed']), [{ messageId: 'compressed' }]],
    [
      'warns of entities',
      inDrawing(['entity', { name: 'lol9' }]),
      [{ messageId: 'entity', severity: 'warning', says: ['"lol9"'] }],
    ],
    [
      'names nesting that is too deep',
      inDrawing(['too-deep', { limit: 1000 }]),
      [{ messageId: 'tooDeep', says: ['1000'] }],
    ],
    [
      'names too many elements',
      inDrawing(['too-many-elements', { limit: 100000 }]),
      [{ messageId: 'tooManyElements' }],
    ],
    [
      'names too many points',
      inDrawing(['too-many-points', { limit: 2000000 }]),
      [{ messageId: 'tooManyPoints', says: ['2000000'] }],
    ],
    [
      'names a circular reference',
      inDrawing(['circular-use', { href: '#a' }]),
      [{ messageId: 'circularUse', says: ['"#a"'] }],
    ],
    [
      'warns of a reference to nothing',
      inDrawing(['missing-reference', { href: '#b' }]),
      [{ messageId: 'missingReference', severity: 'warning' }],
    ],
    [
      'names broken path data',
      inDrawing(['bad-path', { text: 'L x', at: 14 }]),
      [{ messageId: 'badPath', says: ['"L x"', 'character 14'] }],
    ],
    [
      'warns of a value',
      inDrawing(['bad-value', { attribute: 'r', text: 'ten' }]),
      [{ messageId: 'badValue', severity: 'warning', says: ['"ten" of "r"'] }],
    ],
    ['names a transform', inDrawing(['bad-transform', { text: 'turn(3)' }]), [{ messageId: 'badTransform' }]],
    [
      'names a number that cannot be drawn',
      inDrawing(['number-out-of-range', { attribute: 'x', text: '1e308' }]),
      [{ messageId: 'artworkNumber', says: ['"1e308"'] }],
    ],
    ['names a page without size', inDrawing(['zero-size']), [{ messageId: 'zeroSize' }]],
    [
      'warns of a style',
      inDrawing(['bad-style', { text: 'stroke:' }]),
      [{ messageId: 'badStyle', severity: 'warning' }],
    ],
    ['leaves the file a reader of another rule', inDrawing(['live-text', { text: 'Beans' }]), []],
    [
      'says where else',
      inProgram(['arc-no-centre'], ['arc-no-centre', {}, 9]),
      [{ messageId: 'arcNoCentre', says: ['(2 times in this file)'], related: 1 }],
    ],
  ]),
];
