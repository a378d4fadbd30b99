import { describe, expect, it } from 'vitest';
import { readCouponResults } from '../../src/job/material/coupon-results.ts';
import { textSource } from '../../src/source/source.ts';

const HEAD = 'kerflint: 1\nmachine: shed-60w\nlens: "2in"\nmaterial: birch-plywood\nthickness: 4.0 mm\n';
const read = (body: string, head = HEAD) => readCouponResults(textSource('a.results.yaml', head + body));
const row = (text: string) => read(`coupons:\n  - { power: 62 %, speed: 12 mm/s, ${text} }\n`);

describe('a results sheet', () => {
  it('takes yes and no, true and false, and a measured depth', () => {
    expect(row('through: yes').value!.tongues[0]).toMatchObject({
      through: true,
      depthMm: null,
      speedMmPerS: 12,
      passes: 1,
    });
    expect(row('through: no').value!.tongues[0]).toMatchObject({ through: false });
    expect(row('through: true').value!.tongues[0]).toMatchObject({ through: true });
    expect(row('depth: 2.1 mm').value!.tongues[0]).toMatchObject({ through: null, depthMm: 2.1 });
    expect(row('through: no, depth: 0.1 in').value!.tongues[0]).toMatchObject({ through: null, depthMm: 2.54 });
  });

  it('does not count a tongue that is left empty, and says which', () => {
    const { value } = read(
      'coupons:\n  - { tongue: 7, power: 62 %, speed: 12 mm/s, through: }\n  - { tongue: 8, power: 62 %, speed: 14 mm/s, through: no }\n',
    );
    expect(value!.tongues.map((tongue) => tongue.tongue)).toEqual([8]);
    expect(value!.empty).toEqual([7]);
  });

  it('reads a ramp, and leaves an empty one aside', () => {
    const ramp = (sharpest: string) =>
      read(
        `coupons:\n  - { power: 62 %, speed: 12 mm/s, through: no }\nramp: { near: 4 mm, far: -4 mm, length: 100 mm${sharpest} }\n`,
      );
    expect(ramp(', sharpest: { from: 44 mm, to: 52 mm }').value!.ramp).toEqual({
      nearMm: 4,
      farMm: -4,
      lengthMm: 100,
      fromMm: 44,
      toMm: 52,
    });
    expect(ramp(', sharpest: { from: , to: }').value!.ramp).toBeNull();
    expect(ramp('').value!.ramp).toBeNull();
  });

  it.each<[string, string, number, RegExp]>([
    [
      'a bare number for the power',
      '{ power: 62, speed: 12 mm/s, through: yes }',
      7,
      /power: "62" has no unit: did you mean 62 % or 62 W/,
    ],
    [
      'a speed in the wrong unit',
      '{ power: 62 %, speed: 12 mm, through: yes }',
      7,
      /is a length where a speed belongs/,
    ],
    ['no power at all', '{ power: 0 %, speed: 12 mm/s, through: yes }', 7, /must be above 0/],
    ['no speed at all', '{ power: 62 %, speed: 0 mm/s, through: yes }', 7, /must be above 0/],
    ['another word', '{ power: 62 %, speed: 12 mm/s, through: maybe }', 7, /write yes or no/],
    ['a misspelt key', '{ power: 62 %, sped: 12 mm/s, through: yes }', 7, /did you mean speed/],
    ['a depth beyond the sheet', '{ power: 62 %, speed: 12 mm/s, depth: 5 mm }', 7, /depth is more than the thickness/],
    ['a depth of 0', '{ power: 62 %, speed: 12 mm/s, depth: 0 mm }', 7, /must be above 0/],
    [
      'parted and yet a depth',
      '{ power: 62 %, speed: 12 mm/s, through: yes, depth: 2 mm }',
      7,
      /leave one of the two out/,
    ],
    [
      'a tongue twice',
      '{ tongue: 1, power: 62 %, speed: 12 mm/s, through: yes }\n  - { tongue: 1, power: 60 %, speed: 12 mm/s, through: no }',
      8,
      /a tongue 1 stands above/,
    ],
    ['nothing filled in', '{ power: 62 %, speed: 12 mm/s, through: }', 7, /nothing is filled in/],
  ])('says where and what is wrong: %s', (_, text, line, message) => {
    const { value, problems } = read(`coupons:\n  - ${text}\n`);
    expect(value).toBeNull();
    expect(problems[0]!.place.line).toBe(line);
    expect(problems.map((problem) => problem.args.text).join('\n')).toMatch(message);
  });

  it.each<[string, string, RegExp]>([
    ['a thickness of 0', HEAD.replace('4.0 mm', '0 mm'), /thickness.*must be above 0/],
    ['a thickness without a unit', HEAD.replace('4.0 mm', '4'), /has no unit: did you mean 4 mm/],
    ['no machine', HEAD.replace('machine: shed-60w\n', ''), /machine is missing/],
  ])('refuses %s', (_, head, message) => {
    const { problems } = read('coupons:\n  - { power: 62 %, speed: 12 mm/s, through: yes }\n', head);
    expect(problems[0]!.args.text).toMatch(message);
  });

  it.each<[string, RegExp]>([
    ['{ near: 4 mm, far: 4 mm, length: 100 mm, sharpest: { from: 4 mm, to: 5 mm } }', /that is no ramp/],
    ['{ near: 4 mm, far: -4 mm, length: 100 mm, sharpest: { from: 50 mm, to: 40 mm } }', /from is more than to/],
    ['{ near: 4 mm, far: -4 mm, length: 100 mm, sharpest: { from: 50 mm, to: 140 mm } }', /beyond the end/],
    ['{ near: 4 mm, far: -4 mm, length: 100 mm, sharpest: { from: 50 mm, to: } }', /fill in both/],
  ])('refuses the ramp %s', (ramp, message) => {
    expect(read(`ramp: ${ramp}\n`).problems[0]!.args.text).toMatch(message);
  });
});
