import { describe, expect, it } from 'vitest';
import { readEvidence } from '../../src/job/evidence/evidence.ts';
import { textSource } from '../../src/source/source.ts';

const HEAD = 'kerflint: 1\nid: a-shop\ncitation: "A workshop, its wiki"\nmachine: { kind: co2, rated: 60 W }\n';
const read = (body: string, head = HEAD) => readEvidence(textSource('a-shop.evidence.yaml', head + body));
const RECIPE = 'material: card, thickness: 0.5 mm, power: 20 %, speed: 80 mm/s, quality: A';
const cuts = (...rows: string[]) =>
  read(`cuts:\n${rows.map((row, i) => `  - { id: r${i + 1}, ${RECIPE}, ${row} }\n`).join('')}`);
const textOf = ({ problems }: ReturnType<typeof read>) => problems.map(({ args }) => String(args.text)).join('\n');

describe('published cuts', () => {
  it('are read with what the source states, and what it does not is null', () => {
    const { value, problems } = cuts('outcome: cut, use: daily');
    expect(problems).toEqual([]);
    expect(value!.machine).toEqual({ kind: 'co2', ratedW: 60, focalMm: null, spotMm: null, spotBetweenMm: null });
    expect(value!.cuts).toEqual([
      {
        id: 'r1',
        material: 'card',
        thicknessMm: 0.5,
        ratedW: 60,
        power: { fraction: 0.2 },
        speedMmPerS: 80,
        passes: 1,
        focusMm: 0,
        outcome: 'cut',
        depthMm: null,
        use: 'daily',
        bracket: null,
        quality: 'A',
        worn: false,
        inferred: [],
        note: null,
      },
    ]);
  });

  it('take what is inferred of every row into each', () => {
    const { value } = read(
      `cuts:\n  - { id: r1, ${RECIPE}, outcome: cut, use: daily, inferred: [thickness] }\n`,
      `${HEAD}inferred: [lens]\n`,
    );
    expect(value!.cuts[0]!.inferred).toEqual(['lens', 'thickness']);
  });

  it('take the rating of a row’s own machine before the source’s', () => {
    expect(cuts('rated: 100 W, outcome: cut, use: daily').value!.cuts[0]!.ratedW).toBe(100);
  });

  it.each([
    ['no citation', HEAD.replace(/citation.*\n/, ''), /citation/],
    ['an empty one', HEAD.replace('"A workshop, its wiki"', '""'), /citation/],
    ['no machine', HEAD.replace(/machine.*\n/, ''), /machine is missing/],
    ['another id than the file’s name', HEAD.replace('a-shop', 'b-shop'), /a-shop/],
  ])('are refused with %s', (_, head, says) => {
    const result = read(`cuts:\n  - { id: r1, ${RECIPE}, outcome: cut, use: daily }\n`, head);
    expect(result.value).toBeNull();
    expect(textOf(result)).toMatch(says);
  });

  it('are refused where none stands', () => {
    expect(textOf(read(''))).toMatch(/no row/);
  });

  it.each<[string, string[], RegExp]>([
    ['a daily setting that does not cut', ['outcome: not, use: daily'], /a daily setting is one that cuts/],
    ['a bracket without its name', ['outcome: cut, use: bracket'], /a row of a bracket names it/],
    ['a name without a bracket', ['outcome: cut, use: test, bracket: x'], /a row of a bracket names it/],
    ['one side', ['outcome: cut, use: bracket, bracket: x'], /the bracket x has one side only/],
    ['a limit that is no bracket', ['outcome: limit, use: test'], /a limit is a boundary/],
    [
      'a depth of what parted',
      ['outcome: cut, use: test, depth: 0.2 mm'],
      /a depth belongs to a cut that did not part/,
    ],
    ['more depth than sheet', ['outcome: not, use: test, depth: 0.6 mm'], /a depth belongs to a cut that did not part/],
    ['an unknown outcome', ['outcome: nearly, use: test'], /outcome/],
  ])('are refused with %s', (_, rows, says) => {
    const result = cuts(...rows);
    expect(result.value).toBeNull();
    expect(textOf(result)).toMatch(says);
  });

  it('are refused where two rows share an id', () => {
    const row = `  - { id: r1, ${RECIPE}, outcome: cut, use: daily }\n`;
    expect(textOf(read(`cuts:\n${row}${row}`))).toMatch(/a row r1 stands above/);
  });

  it('may be the two sides of a boundary, or the boundary itself', () => {
    const sides = cuts('outcome: cut, use: bracket, bracket: x', 'outcome: not, use: bracket, bracket: x');
    expect(sides.problems).toEqual([]);
    expect(sides.value!.cuts.map(({ bracket }) => bracket)).toEqual(['x', 'x']);
    expect(cuts('outcome: limit, use: bracket, bracket: x').problems).toEqual([]);
    expect(cuts('outcome: not, use: test, depth: 0.2 mm').value!.cuts[0]!.depthMm).toBe(0.2);
  });
});

describe('published energies', () => {
  const energies = (row: string) => read(`energies:\n  - { id: e1, matter: PMMA, ${row} }\n`);

  it('are one value or a range', () => {
    expect(energies('energy: 3.5 kJ/g').value!.energies[0]!.kJPerG).toEqual({ from: 3.5, to: 3.5 });
    expect(energies('from: 3400 J/g, to: 3.9 kJ/g').value!.energies[0]!.kJPerG).toEqual({ from: 3.4, to: 3.9 });
  });

  it.each(['from: 3.9 kJ/g, to: 3.4 kJ/g', 'energy: 3.5 kJ/g, to: 4 kJ/g', 'from: 3 kJ/g', 'materials: [card]'])(
    'are refused as %s',
    (row) => {
      const result = energies(row);
      expect(result.value).toBeNull();
      expect(textOf(result)).toMatch(/either an energy, or from and to/);
    },
  );
});
