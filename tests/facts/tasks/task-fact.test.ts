import { describe, expect, it } from 'vitest';
import { type Files, factsOf, shed } from '../../memory-shop.ts';

const files = (tasks: string, more: Files): Files => ({
  ...shed(),
  'part.job.yaml': `kerflint: 1
machine: shed-60w
lens: 2in
material: birch-plywood
thickness: 3 mm ± 0.1 mm
zero: machine
${'part.gcode' in more ? 'toolpath: part.gcode\n' : ''}${'part.svg' in more ? 'artwork: part.svg\n' : ''}tasks:
${tasks}
`,
  ...more,
});

const svg = (inside: string): Files => ({
  'part.svg': `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100"><g fill="none" stroke="#1864ab">${inside}</g></svg>`,
});
const gcode = (inside: string): Files => ({ 'part.gcode': `G21 G90\nM8\nM4 S800 F600\n${inside}\nM5\nM9\nM2\n` });

const task = (name: string, more = '') =>
  `  - { name: ${name}, aim: through, power: 80 %, speed: 10 mm/s, air: 1 bar${more} }`;

describe('a task is measured', () => {
  it('by the strokes of the toolpath where it has them, rise and arcs included', () => {
    const program = 'G0 X0 Y0 Z0\nG1 X3 Y0 Z-4\nG0 X50 Y0\nG2 X50 Y0 I10 J0';
    const [measured] = factsOf(files(task('parts'), gcode(program))).tasks;
    // √(3² + 4²), and the circumference of a circle of 10 mm, run at 4 mm below.
    expect(measured!.lengthMm).toBeCloseTo(5 + 2 * Math.PI * 10, 6);
    // At 10 mm/s, and no faster: accelerating takes a little longer.
    expect(measured!.timeS).toBeGreaterThanOrEqual(measured!.lengthMm / 10 - 1e-9);
  });

  it('by the artwork as planned where there is no toolpath, each pass in its time', () => {
    const drawing = svg('<path d="M10 10 H60 V40 H10 Z"/>');
    const [once] = factsOf(files(task('parts'), drawing)).tasks;
    const [twice] = factsOf(files(task('parts', ', passes: 2'), drawing)).tasks;
    expect(once!.lengthMm).toBeCloseTo(160, 6);
    expect(twice!.lengthMm).toBeCloseTo(160, 6);
    expect(twice!.timeS).toBeCloseTo(2 * once!.timeS, 9);
  });

  it('where none is planned there is one, told of at the line that names its file', () => {
    const drawing = svg('<path d="M10 10 H60 V40 H10 Z"/>');
    const job = files('', drawing);
    const bare = String(job['part.job.yaml']).split('tasks:')[0]!;
    const { tasks } = factsOf({ ...job, 'part.job.yaml': bare });
    expect(tasks.map(({ aim, location }) => [aim, location.line])).toEqual([['through', 7]]);
  });

  it('strokes that belong to no planned task are one of their own', () => {
    const tasks = task('rim', ', program: { comment: rim }');
    const facts = factsOf(files(tasks, gcode('(rim)\nG0 X0 Y0\nG1 X50\n(other)\nG0 X0 Y20\nG1 X30')));
    expect(facts.tasks.map(({ name, aim, lengthMm }) => [name, aim, Math.round(lengthMm)])).toEqual([
      ['rim', 'through', 50],
      ['unclaimed strokes', 'groove', 30],
    ]);
    expect(facts.match!.extra.items).toEqual([]);
    expect(facts.unclaimed).toMatchObject({ parting: { strokes: 1, location: { line: 9 } }, open: null });
  });

  it('outlines that no task selects are listed, and those along which the head runs without power are told', () => {
    const drawing = svg('<path id="a" d="M10 10 H60 V40 H10 Z"/><path id="b" d="M80 10 H100 V25 L90 30 H80 Z"/>');
    const selected = task('parts', ', strokes: { id: a }');
    expect(factsOf(files(selected, drawing)).unassignedOutlines).toEqual([1]);
    const second = 'G0 X80 Y90\nG1 X100\nG1 Y75\nG1 X90 Y70\nG1 X80\nG1 Y90';
    const unpowered = (inside: string) =>
      factsOf(files(selected, { ...drawing, ...gcode(inside) })).tasks[0]!.unpoweredOutlines;
    const run = `${second}\nG0 X10 Y90\nG1 S0 X60\nG1 Y60\nG1 X10\nG1 Y90`;
    expect(unpowered(run)).toMatchObject({ items: [{ outline: 0 }], endedEarly: null });
    // Not run at all, or on two of its four sides: it is missing, and no power would bring it back.
    expect(unpowered(second)).toEqual({ items: [], endedEarly: null });
    expect(unpowered(`${second}\nG0 X10 Y90\nG1 S0 X60\nG1 Y60`)).toEqual({ items: [], endedEarly: null });
  });

  it('a circle that is run without power is one of them', () => {
    const drawing = svg('<circle cx="30" cy="30" r="10"/><path id="b" d="M80 10 H100 V25 L90 30 H80 Z"/>');
    const second = 'G0 X80 Y90\nG1 X100\nG1 Y75\nG1 X90 Y70\nG1 X80\nG1 Y90';
    const [parts] = factsOf(
      files(task('parts'), { ...drawing, ...gcode(`${second}\nG0 X40 Y70\nG2 S0 X40 Y70 I-10 J0`) }),
    ).tasks;
    expect(parts!.unpoweredOutlines.items).toMatchObject([{ outline: 0 }]);
  });
});
