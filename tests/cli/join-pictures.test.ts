// A divided run that is joined has the pictures of the undivided one, from the drawing files that its parts wrote.
import { mkdirSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type * as v from 'valibot';
import { describe, expect, expectTypeOf, it } from 'vitest';
import type { JobDrawing } from '../../src/facts/drawing/drawing-model.ts';
import type { jobDrawingSchema } from '../../src/report/data/drawing-schema.ts';
import { demo, kerflint } from './harness.ts';

const TODAY = ['--today', '2026-11-25'];

/** The demo checked in two parts, with their drawings; and what the whole page would be. */
async function divided(): Promise<{ at: string; whole: string }> {
  const at = demo();
  for (const part of [1, 2]) {
    const outputs = ['--format', `json=part-${part}.json`, '--format', `drawing=part-${part}.drawing.json`];
    await kerflint(at, ['check', '.', '--shard', `${part}/2`, ...TODAY, ...outputs]);
  }
  await kerflint(at, ['check', '.', ...TODAY, '--format', 'html=whole.html']);
  return { at, whole: readFileSync(join(at, 'whole.html'), 'utf8') };
}

const joined = (at: string) => kerflint(at, ['join', 'part-1.json', 'part-2.json', '--format', 'html']);
const maps = (page: string) => page.split('Sheet map of').length - 1;

describe('the report of a joined run', () => {
  it('is that of the undivided run, to the byte', async () => {
    const { at, whole } = await divided();
    const { code, stdout, stderr } = await joined(at);
    expect([code, stderr]).toEqual([1, '']);
    // Not compared as texts: a failed test would print both pages.
    expect(stdout === whole).toBe(true);
  });

  it('does not take drawings that a shell lists with the results for results', async () => {
    const { at, whole } = await divided();
    const all = ['part-1.drawing.json', 'part-1.json', 'part-2.drawing.json', 'part-2.json'];
    const { code, stdout } = await kerflint(at, ['join', ...all, '--format', 'html']);
    expect([code, stdout === whole]).toEqual([1, true]);
    // Without its result a drawing is none.
    const alone = await kerflint(at, ['join', 'part-1.drawing.json', 'part-2.json']);
    expect([alone.code, alone.stderr]).toEqual([2, expect.stringContaining('is no result of kerflint')]);
  });

  it('hands the drawings on', async () => {
    const { at } = await divided();
    const { stdout } = await kerflint(at, ['join', 'part-1.json', 'part-2.json', '--format', 'drawing']);
    await kerflint(at, ['check', '.', ...TODAY, '--format', 'drawing=whole.json']);
    expect(JSON.parse(stdout)).toEqual(JSON.parse(readFileSync(join(at, 'whole.json'), 'utf8')));
  });

  it('goes without those that are not there', async () => {
    const { at, whole } = await divided();
    rmSync(join(at, 'part-2.drawing.json'));
    const { stdout, stderr } = await joined(at);
    expect(stderr).toBe('');
    expect(maps(stdout)).toBeGreaterThan(0);
    expect(maps(stdout)).toBeLessThan(maps(whole));
  });

  // biome-ignore lint/suspicious/noExplicitAny: what a hand may have put into the file
  const edited = (edit: (file: any) => void) => (path: string) => {
    const file = JSON.parse(readFileSync(path, 'utf8'));
    edit(file);
    writeFileSync(path, JSON.stringify(file));
  };
  const written = (text: string) => (path: string) => writeFileSync(path, text);

  it.each<[what: string, harm: (path: string) => void, said: RegExp]>([
    ['is no JSON', written('{'), /is not JSON/],
    ['is another file', written('{"jobs":[]}'), /is no drawing of kerflint \(version 1\): drawingVersion is wrong/],
    ['is a folder', (path) => [rmSync(path), mkdirSync(path)], /cannot be read \(EISDIR\)/],
    ['is larger than any', (path) => truncateSync(path, 200e6), /is 200 MB large, more than a drawing can be/],
    [
      'has a number that is none',
      (path) => writeFileSync(path, readFileSync(path, 'utf8').replace(/"atX":[-\d.]+/, '"atX":1e999')),
      /jobs\.0\.drawing\.pieces\.0\.atX is wrong/,
    ],
    [
      'has a probability of two',
      edited((file) => (file.jobs[0].drawing.cuts[0].probability = 2)),
      /probability is wrong/,
    ],
    [
      'is of another run',
      edited((file) => (file.jobs[0].drawing.job = 'else')),
      /is not of the same run: its job else has/,
    ],
    ['is of another version', edited((file) => (file.tool.version = '0.0.0-x')), /is not of the same run/],
    ['has other cuts', edited((file) => file.jobs[0].drawing.cuts.pop()), /has other cuts/],
    [
      'has a piece of no cut',
      edited((file) => (file.jobs[0].drawing.pieces[0].cut = 99)),
      /counts pieces of the job .* that are not there/,
    ],
    ['has a piece of no line', edited((file) => (file.jobs[0].drawing.pieces[0].drawnBy = 99)), /that are not there/],
    ['has deep brackets', written(`${'['.repeat(100_000)}`), /is not JSON/],
  ])('refuses a drawing that %s, says so, and reports the rest', async (_, harm, said) => {
    const { at } = await divided();
    harm(join(at, 'part-1.drawing.json'));
    const { code, stdout, stderr } = await joined(at);
    expect(code).toBe(1);
    expect(stderr).toMatch(said);
    expect(stderr).toMatch(/^kerflint: part-1\.drawing\.json .*: its pictures are left out\.\n$/);
    expect(maps(stdout)).toBeGreaterThan(0);
  });

  it('keeps what a drawing brings along text, and drops what it does not know', async () => {
    const { at } = await divided();
    const bad = `"><img src=x onerror=alert(1)></script><script>alert(2)</script>`;
    edited(({ jobs: [{ drawing }] }) => {
      drawing.card.machine = bad;
      drawing.pieces[0].file = bad;
      drawing.unknown = bad;
    })(join(at, 'part-1.drawing.json'));
    const { stdout, stderr } = await joined(at);
    expect(stderr).toBe('');
    expect(stdout).not.toContain('<img');
    expect(stdout.match(/<script>/g)).toHaveLength(1);
    expect(stdout).toContain('&lt;img src=x');
  });

  const BEYOND = '9'.repeat(40);
  const square = (feed: string, power: string) =>
    `G21 G90\nM4 S${power} F${feed}\nG0 X20 Y20\nG1 X80\nG1 Y80\nG1 X20\nG1 Y20\nM5\nM2\n`;
  const rows = Array.from(
    { length: 16 },
    (_, i) => `G0 X${i % 2 ? 40 : 20} Y${10 + i / 10}\nG1 X${i % 2 ? 20 : 40} S${BEYOND}`,
  );

  it.each([
    ['a setting', square('540', BEYOND)],
    ['a feed', square(BEYOND, '800')],
    ['a time', square(`0.${'0'.repeat(40)}1`, '800')],
    ['an energy', `G21 G90\nM4 F6000\n${rows.join('\n')}\nM5\nM2\n`],
  ])('of a program with %s beyond all measure is taken like any other', async (_, program) => {
    const { at } = await divided();
    writeFileSync(join(at, 'odd.gcode'), program);
    const bare = ['--machine', 'shed-60w', '--lens', '2in', '--material', 'birch-plywood', '--thickness', '3 mm'];
    const outputs = ['--format', 'json=part-2.json', '--format', 'drawing=part-2.drawing.json'];
    await kerflint(at, ['check', 'odd.gcode', ...bare, ...TODAY, ...outputs]);
    const { stdout, stderr } = await kerflint(at, ['join', 'part-2.json', '--format', 'html']);
    expect(stderr).toBe('');
    expect(maps(stdout)).toBe(1);
  });

  it('has a schema that says what the types say', () => {
    type Plain<T> = T extends object ? { -readonly [K in keyof T]: Plain<T[K]> } : T;
    type Stated = v.InferOutput<typeof jobDrawingSchema>;
    expectTypeOf<Plain<JobDrawing>>().toExtend<Plain<Stated>>();
    expectTypeOf<Plain<Stated>>().toExtend<Plain<JobDrawing>>();
    expectTypeOf<keyof JobDrawing>().toEqualTypeOf<keyof Stated>();
  });
});
