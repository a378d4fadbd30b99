import { existsSync, readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import Reference, { type Modal } from 'gcode-toolpath';
import { describe, expect, it } from 'vitest';
import { readToolpath } from '../../src/gcode/read.ts';
import { bytesSource } from '../../src/source/source.ts';
import { OPTIONS, read } from '../gcode/reading.ts';

interface Point {
  x: number;
  y: number;
  z: number;
}

/** What gcode-toolpath makes of a program: lengths, bounds and end points. */
function reference(text: string) {
  const result = {
    rapidMm: 0,
    feedMm: 0,
    ends: [] as Point[],
    minX: Infinity,
    minY: Infinity,
    maxX: -Infinity,
    maxY: -Infinity,
  };
  const moved = (to: Point) => {
    result.ends.push({ ...to });
    result.minX = Math.min(result.minX, to.x);
    result.maxX = Math.max(result.maxX, to.x);
    result.minY = Math.min(result.minY, to.y);
    result.maxY = Math.max(result.maxY, to.y);
  };
  const runner = new Reference({
    addLine: (modal: Modal, from: Point, to: Point) => {
      const length = Math.hypot(to.x - from.x, to.y - from.y, to.z - from.z);
      if (length === 0) return;
      if (modal.motion === 'G0') result.rapidMm += length;
      else result.feedMm += length;
      moved(to);
    },
    addArcCurve: (modal: Modal, from: Point, to: Point, centre: Point) => {
      const radius = Math.hypot(from.x - centre.x, from.y - centre.y);
      let sweep = Math.atan2(to.y - centre.y, to.x - centre.x) - Math.atan2(from.y - centre.y, from.x - centre.x);
      if (modal.motion === 'G2' && sweep >= -1e-12) sweep -= 2 * Math.PI;
      if (modal.motion === 'G3' && sweep <= 1e-12) sweep += 2 * Math.PI;
      result.feedMm += Math.hypot(radius * sweep, to.z - from.z);
      moved(to);
    },
  });
  runner.loadFromStringSync(text);
  return result;
}

// The library is right where each line has its G word first and alone, arcs are by centre in G17, and no offset is used.
const coordinate = fc.integer({ min: -20000, max: 20000 }).map((n) => (n / 100).toFixed(2));
const straight = fc
  .tuple(fc.constantFrom('G0', 'G1'), fc.option(coordinate), fc.option(coordinate), fc.option(coordinate))
  .filter(([, x, y, z]) => x !== null || y !== null || z !== null)
  .map(([g, x, y, z]) => `${g}${x === null ? '' : ` X${x}`}${y === null ? '' : ` Y${y}`}${z === null ? '' : ` Z${z}`}`);
const circle = fc
  .tuple(fc.constantFrom('G2', 'G3'), fc.integer({ min: 1, max: 50 }), fc.integer({ min: 0, max: 3 }))
  .map(([g, r, quarter]) => {
    const [i, j] = [
      [r, 0],
      [0, r],
      [-r, 0],
      [0, -r],
    ][quarter]!;
    return { g, i: i!, j: j! };
  });
const mode = fc.constantFrom('G20', 'G21', 'G90', 'G91');

describe('lengths, bounds and ends against gcode-toolpath', () => {
  it('agree on generated programs of lines in both units and distance modes', () => {
    fc.assert(
      fc.property(
        fc.array(fc.oneof({ weight: 6, arbitrary: straight }, { weight: 1, arbitrary: mode }), {
          minLength: 1,
          maxLength: 40,
        }),
        (lines) => {
          const theirs = reference(lines.join('\n'));
          const ours = read(['M3 S1', 'F600', ...lines]);
          expect(ours.cutLengthMm).toBeCloseTo(theirs.feedMm, 5);
          expect(ours.travelLengthMm).toBeCloseTo(theirs.rapidMm, 5);
          expect(ours.moves).toBe(theirs.ends.length);
          if (theirs.ends.length > 0) {
            for (const key of ['minX', 'maxX', 'minY', 'maxY'] as const) {
              // The point from which the first powered stroke sets out belongs to our bounds, and not to the ends listed by the library.
              const start = ours.strokes.count > 0 ? [0, theirs[key]] : [theirs[key]];
              expect(start.some((value) => Math.abs(value - ours.boundsMm![key]) < 1e-6)).toBe(true);
            }
          }
        },
      ),
      { seed: 8, numRuns: 400 },
    );
  });

  it('agree on arcs by centre: quarter turns from any side', () => {
    fc.assert(
      fc.property(fc.array(circle, { minLength: 1, maxLength: 12 }), (arcs) => {
        // A quarter turn: from −(i, j) seen from the centre, turned by 90° either way.
        const lines = arcs.map(({ g, i, j }) => {
          const [dx, dy] = g === 'G3' ? [i + j, j - i] : [i - j, j + i];
          return `${g} X${dx} Y${dy} I${i} J${j}`;
        });
        const theirs = reference(`G91\n${lines.join('\n')}`);
        const ours = read(['M3 S1', 'F600', 'G91', ...lines]);
        expect(ours.problems).toEqual([]);
        expect(ours.cutLengthMm).toBeCloseTo(theirs.feedMm, 6);
        expect(ours.cutLengthMm).toBeCloseTo(
          arcs.reduce((sum, { i, j }) => sum + (Math.hypot(i, j) * Math.PI) / 2, 0),
          6,
        );
        const last = theirs.ends.at(-1)!;
        expect(ours.strokes.endX.at(-1)).toBeCloseTo(last.x, 9);
        expect(ours.strokes.endY.at(-1)).toBeCloseTo(last.y, 9);
      }),
      { seed: 9, numRuns: 300 },
    );
  });
});

const FOLDER = '/work/shared/corpus/gcode';

describe.skipIf(!existsSync(FOLDER))('real programs (runs where the corpus is)', () => {
  const files = existsSync(FOLDER) ? readdirSync(FOLDER).filter((name) => /\.(ngc|gcode)$/.test(name)) : [];

  it.each(files)('%s is read to its end: every problem has a place inside the file', (name) => {
    const bytes = readFileSync(`${FOLDER}/${name}`);
    const toolpath = readToolpath(bytesSource(name, bytes), OPTIONS);
    const lines = bytes.toString('utf8').split(/\r\n|\r|\n/);
    expect(toolpath.bytes).toBe(bytes.length);
    expect(toolpath.lines).toBe(lines.at(-1) === '' ? lines.length - 1 : lines.length);
    for (const { place } of toolpath.problems) {
      expect(place.line).toBeLessThanOrEqual(lines.length);
      expect(place.endColumn).toBeLessThanOrEqual((lines[place.line - 1] ?? '').length + 1);
    }
  });

  // Files without codes that the library gets wrong (offsets, R arcs, G28, words before G, percent signs, binary lines).
  it.each(['makerblock_tinycnc.gcode', 'circle_a.gcode', 'nist-test07.ngc', 'plotter_owl.gcode'])(
    '%s has the length that gcode-toolpath gives',
    (name) => {
      const bytes = readFileSync(`${FOLDER}/${name}`);
      const theirs = reference(bytes.toString('utf8'));
      const ours = readToolpath(bytesSource(name, bytes), OPTIONS);
      expect(ours.cutLengthMm + ours.travelLengthMm).toBeCloseTo(theirs.feedMm + theirs.rapidMm, 4);
      // Our bounds hold the whole of an arc, the library lists its end.
      const arcs = Array.from(ours.strokes.sweepRad).some((sweep) => sweep !== 0);
      for (const key of ['maxX', 'maxY'] as const) {
        expect(ours.boundsMm![key]).toBeGreaterThanOrEqual(theirs[key] - 1e-9);
        if (!arcs) expect(ours.boundsMm![key]).toBeCloseTo(theirs[key], 6);
      }
    },
  );

  it.each([
    ['arc_end.gcode', 'extruder'],
    ['makerblock_tinycnc.gcode', 'plotter'],
    ['plotter_owl.gcode', 'plotter'],
    ['program_1.gcode', 'mill'],
    ['nist-c3.ngc', 'drill'],
  ])('%s was written for another machine: %s', (name, kind) => {
    const toolpath = readToolpath(bytesSource(name, readFileSync(`${FOLDER}/${name}`)), OPTIONS);
    expect(toolpath.problems.filter((p) => p.code === 'wrong-kind').map((p) => p.args['kind'])).toContain(kind);
  });
});
