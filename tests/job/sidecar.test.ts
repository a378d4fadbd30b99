import { describe, expect, it } from 'vitest';
import { readSidecar } from '../../src/job/sidecar/sidecar.ts';
import { changed, exampleSource, SIDECAR } from './examples.ts';

describe('the sidecar', () => {
  it('says what the job is, in mm, mm/s and shares', () => {
    const { value, problems } = readSidecar(exampleSource(SIDECAR));
    expect(problems).toEqual([]);
    expect(value).toMatchObject({
      file: 'coaster.job.yaml',
      name: 'coaster',
      machine: 'bench-60w',
      lens: '2in',
      material: 'birch-plywood',
      thickness: { mm: 6, plusMinusMm: 0.2, nominal: false },
      face: 'masked',
      mirror: null,
      bowMm: null,
      sheet: { widthMm: 600, heightMm: 300, price: { amount: 14.5, currency: 'EUR' }, atXMm: 0, atYMm: 0 },
      zero: 'machine',
      toolpath: 'coaster.gcode',
      artwork: 'coaster.svg',
      tasks: [
        {
          name: 'outline',
          aim: 'through',
          strokes: { stroke: '#0b7285' },
          program: { comment: 'outline' },
          power: { fraction: 0.8 },
          speedMmPerS: 12,
          passes: 1,
          focusMm: -1,
          focusStepMm: 0,
          airBar: 1.4,
        },
      ],
      waivers: [
        {
          rule: 'cut/marginal',
          reason: 'proved on coupon 12',
          until: '2027-03-01',
          location: { file: 'coaster.job.yaml', line: 22 },
        },
      ],
      budget: null,
    });
  });

  it('knows the place of every key and value, and the nearest parent of what is not there', () => {
    const { value } = readSidecar(exampleSource(SIDECAR));
    const at = (path: (string | number)[], part?: 'key' | 'value') => {
      const { line, column, endColumn } = value!.placeOf(path, part);
      return [line, column, endColumn];
    };
    expect(at(['thickness'])).toEqual([5, 12, 27]);
    expect(at(['thickness'], 'key')).toEqual([5, 1, 10]);
    expect(at(['tasks', 0, 'speed'])).toEqual([17, 12, 19]);
    expect(at(['tasks', 0, 'colour'])).toEqual([12, 5, 18]);
    expect(at(['sheet', 'price'])).toEqual([7, 48, 57]);
    expect(at(['bow'])).toEqual([1, 1, 12]);
  });

  it.each<[string, string | RegExp, string, string, [number, number]]>([
    ['a bare speed', '12 mm/s', '12', 'task 1, speed: "12" has no unit: did you mean 12 mm/s?', [17, 12]],
    ['a misspelt key', 'speed:', 'sped:', 'the key "sped" is not known in task 1: did you mean speed?', [17, 5]],
    [
      'a misspelt choice',
      'through',
      'throuhg',
      '"throuhg" is not one of through, groove, surface: did you mean through?',
      [13, 10],
    ],
    ['a negative thickness', '6.0 mm ± 0.2 mm', '-6 mm', 'thickness: "-6 mm" must be above 0', [5, 12]],
    ['no thickness', '6.0 mm ± 0.2 mm', '0 mm', 'must be above 0', [5, 12]],
    ['an absurd thickness', '6.0 mm ± 0.2 mm', '6 m', 'more than 500 mm', [5, 12]],
    ['a bare lens', 'lens: 2in', 'lens: 2', '"2" is not read as text: put it in quotes', [3, 7]],
    ['a power above full', '80 %', '180 %', 'more than 100 %', [16, 12]],
    ['no passes', 'passes: 1', 'passes: 0', '0 must be at least 1', [18, 13]],
    ['half a pass', 'passes: 1', 'passes: 1.5', 'must be a whole number', [18, 13]],
    ['a focus beyond reach', '-1 mm', '-1 m', 'more than 200 mm', [19, 12]],
    ['no value', 'aim: through', 'aim:', 'there is no value', [13, 9]],
    ['no version', /^kerflint.*\n/m, '', 'kerflint is missing', [1, 1]],
    ['a task without a name', 'name: outline', 'aim: groove', 'a second time', [13, 5]],
    ['a day that is none', '2027-03-01', '2027-02-30', '"2027-02-30" is not a date', [22, 65]],
    ['another version', 'kerflint: 1', 'kerflint: 2', 'this kerflint reads "kerflint: 1", not "2"', [1, 11]],
    ['an absolute path', 'coaster.svg', '/etc/passwd', 'is not a relative path', [10, 10]],
    ['a drive letter', 'coaster.svg', 'C:/x.svg', 'no drive letters', [10, 10]],
    ['backslashes', 'coaster.svg', '..\\x.svg', 'with / between folders', [10, 10]],
    ['an address', 'coaster.svg', 'https://example.org/x.svg', 'no addresses', [10, 10]],
    ['one file twice', 'coaster.svg', 'coaster.gcode', 'name the same file', [10, 10]],
    ['a selector of nothing', '{ stroke: "#0b7285" }', '{}', 'at least one of stroke, layer, class or id', [14, 14]],
    [
      'a task that is a word',
      '  - name: outline',
      '  - outline\n  - name: outline',
      'task 1: keys with values belong here',
      [12, 5],
    ],
    [
      'a sheet that is a list',
      /sheet: .*/,
      'sheet: [600 mm, 300 mm]',
      'a list stands where keys with values belong',
      [7, 8],
    ],
    ['tasks that are keys', /^tasks:[\s\S]*/m, 'tasks: { name: outline }\n', 'tasks: a list belongs here', [11, 8]],
    ['a path to no profile', 'bench-60w', '../machines/big.yaml', 'ends in .machine.yaml', [2, 10]],
  ])('refuses %s', (_, from, to, text, [line, column]) => {
    const { value, problems } = readSidecar(changed(SIDECAR, from, to));
    expect(value).toBeNull();
    expect(problems).toHaveLength(1);
    expect(problems[0]!.args.text).toContain(text);
    expect([problems[0]!.place.line, problems[0]!.place.column]).toEqual([line, column]);
  });

  it('refuses two tasks of one name', () => {
    const again = 'waive:\n';
    const { problems } = readSidecar(changed(SIDECAR, again, `  - { name: outline, aim: surface }\n${again}`));
    expect(problems.map((problem) => problem.args.text)).toEqual([
      'a task "outline" stands above: give each its own name',
    ]);
  });

  it('asks for a toolpath or an artwork', () => {
    const { problems } = readSidecar(changed(SIDECAR, /^(toolpath|artwork).*\n/gm, ''));
    expect(problems[0]).toMatchObject({ code: 'missing-key', place: { line: 1 } });
  });

  it('takes what is missing or left empty as not stated, and lists the lines of a form that wait for a value', () => {
    const missing = readSidecar(changed(SIDECAR, /^(machine|material|thickness).*\n/gm, ''));
    expect(missing.problems).toEqual([]);
    expect(missing.value).toMatchObject({ machine: null, material: null, thickness: null, unfilled: [] });
    const empty = readSidecar(changed(SIDECAR, /^( *(?:machine|material|thickness|power|speed):).*$/gm, '$1'));
    expect(empty.problems).toEqual([]);
    expect(empty.value).toMatchObject({
      machine: null,
      material: null,
      thickness: null,
      tasks: [{ power: null, speedMmPerS: null }],
    });
    expect(empty.value!.unfilled.map(({ key, location }) => [key, location.line])).toEqual([
      ['machine', 2],
      ['material', 4],
      ['thickness', 5],
      ['task 1, power', 16],
      ['task 1, speed', 17],
    ]);
  });

  it('needs no planned settings where there is no toolpath to take them from', () => {
    const { value, problems } = readSidecar(changed(SIDECAR, /^(toolpath| {4}program| {4}speed| {4}power).*\n/gm, ''));
    expect(problems).toEqual([]);
    expect(value).toMatchObject({ tasks: [{ power: null, speedMmPerS: null }], unfilled: [] });
  });

  it('tells all problems at once, in the order of the schema, and bounds them', () => {
    const many = Array.from({ length: 80 }, (_, i) => `nonsense${i}: 1`).join('\n');
    const { problems } = readSidecar(changed(SIDECAR, 'lens: 2in', many));
    expect(problems).toHaveLength(50);
    expect(problems[49]!.more).toBe(30);
  });
});
