import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { JobResult } from '../../src/findings/result.ts';
import { FIXES, type FixId } from '../../src/fixes/fix.ts';
import { mended, sidecar } from './mending.ts';
import { simulate } from './simulated.ts';

/** A shape of a random program, and how it is written. */
interface Shape {
  kind: 'square' | 'circle';
  x: number;
  y: number;
  size: number;
  /** Runs in all. */
  runs: number;
  dwell: 'none' | 'G4 P1.5' | 'G4 P0.2' | 'M0';
  task: 'outline' | 'holes';
}

interface Style {
  beam: 'M3 each' | 'M4 once' | 'M3 and S apart';
  numbered: boolean;
  inch: boolean;
  relative: boolean;
  air: boolean;
  feed: 'each' | 'apart';
  ending: '\n' | '\r\n' | '\r';
  mark: boolean;
  open: boolean;
}

const shapes: fc.Arbitrary<Shape[]> = fc.array(
  fc.record<Shape>({
    kind: fc.constantFrom('square', 'circle'),
    x: fc.integer({ min: 20, max: 100 }),
    y: fc.integer({ min: 20, max: 100 }),
    size: fc.constantFrom(6, 10, 40, 80),
    runs: fc.constantFrom(1, 1, 1, 2, 3),
    dwell: fc.constantFrom('none', 'none', 'G4 P1.5', 'G4 P0.2', 'M0'),
    task: fc.constantFrom('outline', 'holes'),
  }),
  { minLength: 1, maxLength: 4 },
);

const styles: fc.Arbitrary<Style> = fc.record<Style>({
  beam: fc.constantFrom('M3 each', 'M4 once', 'M3 and S apart'),
  numbered: fc.boolean(),
  inch: fc.constantFrom(false, false, true),
  relative: fc.constantFrom(false, false, false, true),
  air: fc.boolean(),
  feed: fc.constantFrom('each', 'apart'),
  ending: fc.constantFrom('\n', '\r\n', '\r'),
  mark: fc.boolean(),
  open: fc.boolean(),
});

function programOf(list: readonly Shape[], style: Style, settings: Settings): string {
  const lines = [style.inch ? 'G20 G90' : 'G21 G90'];
  if (style.air) lines.push('M8');
  if (style.beam === 'M4 once') lines.push('M4 S0');
  for (const shape of list) lines.push(...shapeLines(shape, style, settings));
  lines.push('M5', 'G0 X0 Y0', 'M2');
  const numbered = style.numbered
    ? lines.map((line, k) => (line.startsWith('(') ? line : `N${10 * k} ${line}`))
    : lines;
  return `${style.mark ? '\uFEFF' : ''}${numbered.join(style.ending)}${style.open ? '' : style.ending}`;
}

interface Settings {
  s: number;
  /** mm/min */
  f: number;
}

/** How a length or a feed is written. */
const inUnits =
  ({ inch }: Style) =>
  (value: number) =>
    String(Number((value / (inch ? 25.4 : 1)).toFixed(4)));

function shapeLines(shape: Shape, style: Style, { s, f }: Settings): string[] {
  const n = inUnits(style);
  const lines = [`(${shape.task})`, `G0 X${n(shape.x)} Y${n(shape.y)}`];
  if (style.beam === 'M3 each') lines.push(`M3 S${s}`);
  if (style.beam === 'M3 and S apart') lines.push('M3', `S${s}`);
  if (style.beam === 'M4 once' && shape.dwell !== 'none') lines.push(`S${s}`);
  if (shape.dwell !== 'none') lines.push(shape.dwell);
  if (style.feed === 'apart') lines.push(`F${n(f)}`);
  const words = style.feed === 'each' ? ` F${n(f)} S${s}` : ` S${s}`;
  for (let run = 0; run < shape.runs; run++) lines.push(...runLines(shape, style, words));
  return [...lines, style.beam === 'M4 once' ? 'S0' : 'M5'];
}

function runLines({ kind, x, y, size }: Shape, style: Style, words: string): string[] {
  const n = inUnits(style);
  const at = style.relative ? { x: 0, y: 0 } : { x, y };
  if (kind === 'circle') {
    const circle = `G2 X${n(at.x)} Y${n(at.y)} I${n(size / 2)} J0${words}`;
    return style.relative ? ['G91', circle, 'G90'] : [circle];
  }
  if (style.relative) return ['G91', `G1 X${n(size)}${words}`, `Y${n(size)}`, `X${n(-size)}`, `Y${n(-size)}`, 'G90'];
  return [`G1 X${n(x + size)}${words}`, `Y${n(y + size)}`, `X${n(x)}`, `Y${n(y)}`];
}

const TASKS = (speed: string, power: string) =>
  ['outline', 'holes']
    .map(
      (name) =>
        `  - name: ${name}\n    aim: through\n    program: { comment: ${name} }\n    power: ${power}\n    speed: ${speed}\n    passes: 1\n    air: 1 bar`,
    )
    .join('\n');

/** Chances as they are told, the least of each task. */
function chances({ cuts }: JobResult): Map<string, number> {
  const least = new Map<string, number>();
  for (const { task, throughProbability } of cuts)
    if (throughProbability !== null)
      least.set(task, Math.min(99, Math.floor(100 * throughProbability), least.get(task) ?? 99));
  return least;
}

describe('random jobs, mended', () => {
  it('cut the same lines and travel the same way, but for what is said; none is likelier to fail', {
    timeout: 1_200_000,
  }, async () => {
    const made = new Map<FixId, number>();
    const wantedSets = fc.subarray([...FIXES], { minLength: 1 });
    const settings = fc.record({ s: fc.constantFrom(400, 700, 800, 850), f: fc.constantFrom(300, 540, 900, 1500) });
    const thickness = fc.constantFrom('3.0 mm ± 0.1 mm', '6.0 mm ± 0.2 mm', '1.5 mm ± 0.1 mm');
    await fc.assert(
      fc.asyncProperty(shapes, styles, settings, thickness, wantedSets, async (list, style, set, sheet, wanted) => {
        const text = programOf(list, style, set);
        const plan = sidecar({ tasks: TASKS(`${set.f / 60} mm/s`, `${set.s / 10} %`), thickness: sheet });
        const outcome = await mended(text, { sidecar: plan, wanted, switchesAir: true });
        const done = new Set(outcome.done.map(({ fix }) => fix));
        for (const fix of done) made.set(fix, (made.get(fix) ?? 0) + 1);
        expect([...done].every((fix) => wanted.includes(fix))).toBe(true);
        expect(outcome.files.length > 0).toBe(done.size > 0);
        const [before, after] = [simulate(text), simulate(outcome.text)];
        held(before, after, done, outcome.before, outcome.after);
        // Untouched lines keep their ends, the mark and the open end of the file.
        expect(outcome.text.startsWith('\uFEFF')).toBe(style.mark);
        expect(/[\r\n]$/.test(outcome.text)).toBe(!style.open);
        const others = outcome.text.replaceAll(style.ending, '');
        expect(others).not.toMatch(/[\r\n]/);
        // What stands dark, and has its air, has it.
        const again = await mended(outcome.text, { sidecar: outcome.sidecar, wanted, switchesAir: true });
        expect(again.done.filter(({ fix }) => done.has(fix) && (fix === 'beam-off' || fix === 'air'))).toEqual([]);
      }),
      { numRuns: 40 },
    );
    for (const fix of FIXES) expect(made.get(fix) ?? 0, `${fix} was made`).toBeGreaterThan(0);
  });
});

type Run = ReturnType<typeof simulate>;

function held(before: Run, after: Run, done: ReadonlySet<FixId>, was: JobResult, is: JobResult): void {
  const count = (run: Run) => {
    const counts = new Map<string, number>();
    for (const { key } of run.cuts) counts.set(key, (counts.get(key) ?? 0) + 1);
    return counts;
  };
  const [a, b] = [count(before), count(after)];
  expect([...b.keys()].sort()).toEqual([...a.keys()].sort());
  for (const [key, times] of a) {
    if (!done.has('duplicate-passes')) expect(b.get(key)!).toBeGreaterThanOrEqual(times);
    if (!done.has('settings')) expect(b.get(key)!).toBeLessThanOrEqual(times);
  }
  if (!done.has('settings')) {
    expect(new Set(after.cuts.map(({ s }) => s))).toEqual(new Set(before.cuts.map(({ s }) => s)));
    expect(new Set(after.cuts.map(({ f }) => Math.round(f)))).toEqual(
      new Set(before.cuts.map(({ f }) => Math.round(f))),
    );
  }
  if (!done.has('order')) expect(after.travels).toEqual(before.travels);
  if (!done.has('order') && !done.has('duplicate-passes') && !done.has('settings'))
    expect(after.cuts.map(({ key }) => key)).toEqual(before.cuts.map(({ key }) => key));
  expect(after.dwells.map(({ seconds }) => seconds)).toEqual(before.dwells.map(({ seconds }) => seconds));
  after.dwells.forEach(({ beam }, k) => {
    if (beam) expect(before.dwells[k]!.beam).toBe(true);
    // A pierce is left as it is.
    if (before.dwells[k]!.seconds <= 0.3) expect(beam).toBe(before.dwells[k]!.beam);
  });
  if (before.ends.beam === false) expect(after.ends.beam).toBe(false);
  const [old, now] = [chances(was), chances(is)];
  for (const [task, chance] of old) expect(now.get(task)!).toBeGreaterThanOrEqual(chance);
}
