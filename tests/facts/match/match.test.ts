import { describe, expect, it } from 'vitest';
import { type Files, factsOf, shed } from '../../memory-shop.ts';

interface Point {
  x: number;
  y: number;
}

/** An unsymmetrical plate with two holes: its outline and holes as polygons, Y up. */
const plate: Point[] = [
  { x: 0, y: 0 },
  { x: 60, y: 0 },
  { x: 60, y: 25 },
  { x: 40, y: 40 },
  { x: 0, y: 40 },
];
const hole = (x: number, y: number, r: number): Point[] =>
  Array.from({ length: 72 }, (_, i) => ({
    x: x + r * Math.cos((i / 72) * 2 * Math.PI),
    y: y + r * Math.sin((i / 72) * 2 * Math.PI),
  }));
const shapes = [hole(12, 12, 5), hole(40, 15, 3), plate];

const svgOf = (shapes: Point[][]) =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">${shapes
    .map(
      (s, i) =>
        `<path id="s${i}" stroke="#1864ab" fill="none" d="M ${s.map((p) => `${p.x + 10} ${50 - p.y}`).join(' L ')} Z"/>`,
    )
    .join('\n')}</svg>`;

const gcodeOf = (shapes: Point[][], place: (p: Point) => Point, setting = 800, feed = 600) =>
  `G21 G90\nM8\nM4 S${setting} F${feed}\n${shapes
    .map((s) => {
      const [first, ...rest] = [...s, s[0]!].map(place);
      const at = (p: Point) => `X${p.x.toFixed(4)} Y${p.y.toFixed(4)}`;
      return [`G0 ${at(first!)}`, ...rest.map((p) => `G1 ${at(p)}`)].join('\n');
    })
    .join('\n')}\nM5\nM9\nM2\n`;

const files = (artwork: Point[][], toolpath: string, tasks = ''): Files => ({
  ...shed(),
  'plate.job.yaml': `kerflint: 1
machine: shed-60w
lens: 2in
material: birch-plywood
thickness: 3 mm ± 0.1 mm
zero: machine
toolpath: plate.gcode
artwork: plate.svg
tasks:
${tasks || '  - { name: parts, aim: through, strokes: { stroke: "#1864ab" }, power: 80 %, speed: 10 mm/s }'}
`,
  'plate.svg': svgOf(artwork),
  'plate.gcode': toolpath,
});

const same = (p: Point) => p;
const match = (artwork: Point[][], toolpath: string, tasks?: string) => factsOf(files(artwork, toolpath, tasks)).match!;

describe('the toolpath is laid over the artwork by geometry alone', () => {
  it.each<[string, (p: Point) => Point, object]>([
    ['in place', same, { quarterTurns: 0, mirrored: false }],
    ['moved', (p) => ({ x: p.x + 123, y: p.y + 45 }), { quarterTurns: 0, mirrored: false }],
    ['turned by a quarter', (p) => ({ x: 100 - p.y, y: p.x }), { quarterTurns: 1, mirrored: false }],
    ['turned by a half', (p) => ({ x: 100 - p.x, y: 100 - p.y }), { quarterTurns: 2, mirrored: false }],
    ['mirrored', (p) => ({ x: 100 - p.x, y: p.y }), { mirrored: true }],
  ])('%s: nothing is missing and nothing is extra', (_, place, expected) => {
    const found = match(shapes, gcodeOf(shapes, place));
    expect(found.placement).toMatchObject(expected);
    expect(found.placement!.scale).toBeCloseTo(1, 3);
    expect(found.missing.items).toEqual([]);
    expect(found.extra.items).toEqual([]);
  });

  it('a scale of 96 to 72 is found and named', () => {
    const found = match(
      shapes,
      gcodeOf(shapes, (p) => ({ x: (p.x * 96) / 72, y: (p.y * 96) / 72 })),
    );
    expect(found.placement!.scale).toBeCloseTo(96 / 72, 3);
    expect(found.scaleCause).toContain('72 px');
  });

  it('a contour that was left out is missing, whole', () => {
    const found = match(shapes, gcodeOf([shapes[0]!, shapes[2]!], same));
    expect(found.missing.items).toHaveLength(1);
    expect(found.missing.items[0]!.lengthMm).toBeCloseTo(found.missing.items[0]!.outlineLengthMm, 3);
  });

  it('a contour that the artwork does not have is extra, at its line', () => {
    const found = match([shapes[0]!, shapes[2]!], gcodeOf(shapes, same));
    const extra = found.extra.items.reduce((sum, one) => sum + one.lengthMm, 0);
    expect(extra).toBeCloseTo(2 * Math.PI * 3, 0);
    expect(found.extra.items[0]!.location.line).toBeGreaterThan(70);
  });

  it('settings other than planned are told with both values', () => {
    const found = match(shapes, gcodeOf(shapes, same, 600, 720));
    expect(found.settings.map(({ what, planned, found: seen }) => [what, planned, seen])).toEqual([
      ['power', '80 %', '60 %'],
      ['speed', '10 mm/s', '12 mm/s'],
    ]);
  });

  it('a task whose comment stands nowhere in the program is named', () => {
    const tasks =
      '  - { name: parts, aim: through, strokes: { stroke: "#1864ab" }, program: { comment: parts }, power: 80 %, speed: 10 mm/s }';
    const facts = factsOf(files(shapes, gcodeOf(shapes, same), tasks));
    expect(facts.match!.unmatchedTasks.map((one) => one.task)).toEqual(['parts']);
    expect(facts.match!.unmatchedTasks[0]!.reason).toContain('"parts"');
    // Its cuts are then predicted from the plan, so that the task is not passed over.
    expect(facts.cuts.some((cut) => cut.task === 'parts' && cut.prediction)).toBe(true);
  });

  it('of a task that asks for several things all are named, and no other', () => {
    const tasks = (program: string) =>
      `  - { name: parts, aim: through, strokes: { stroke: "#1864ab" }, program: { ${program} }, power: 80 %, speed: 10 mm/s }`;
    const reason = (program: string) =>
      factsOf(files(shapes, gcodeOf(shapes, same), tasks(program))).match!.unmatchedTasks[0]!.reason;
    expect(reason('tool: 4')).toBe('no powered stroke bears tool 4');
    expect(reason('power: 30 %')).toBe('no powered stroke bears the power');
    expect(reason('comment: rim, feed: 90 mm/min')).toBe('no powered stroke bears the comment "rim" and the feed');
  });

  it('tasks without a program selector get their strokes by geometry', () => {
    const tasks = `  - { name: holes, aim: through, strokes: { id: s0 }, power: 80 %, speed: 10 mm/s }
  - { name: hole two, aim: through, strokes: { id: s1 }, power: 80 %, speed: 10 mm/s }
  - { name: rim, aim: through, strokes: { id: s2 }, power: 80 %, speed: 10 mm/s }`;
    const facts = factsOf(
      files(
        shapes,
        gcodeOf(shapes, (p) => ({ x: p.x + 7, y: p.y + 3 })),
        tasks,
      ),
    );
    const lengths = Object.fromEntries(facts.tasks.map((task) => [task.name, task.lengthMm]));
    expect(lengths['holes']).toBeCloseTo(2 * Math.PI * 5, 0);
    expect(lengths['hole two']).toBeCloseTo(2 * Math.PI * 3, 0);
    expect(Object.keys(lengths)).not.toContain('unclaimed strokes');
  });

  it('another drawing altogether has no placement', () => {
    const comb = Array.from({ length: 14 }, (_, i) => [
      { x: i * 4, y: 0 },
      { x: i * 4 + 1 + (i % 3), y: 0 },
      { x: i * 4 + 1, y: 7 * (1 + (i % 5)) },
    ]);
    expect(match(shapes, gcodeOf(comb, same)).placement).toBeNull();
  });
});
