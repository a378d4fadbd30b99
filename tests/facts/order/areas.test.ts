// Raster areas as the sheet feels them: energy, spot and run-out, and which task they are of.
import { describe, expect, it } from 'vitest';
import { areaFacts } from '../../../src/facts/order/areas.ts';
import { shed } from '../../memory-shop.ts';
import { readWithoutMotion } from '../../trial/opened.ts';

/** Twenty lines of 20 mm side by side, a tenth of a millimetre apart, at half power and 100 mm/s, from line 6 of the program on. */
const LINES = Array.from({ length: 20 }, (_, i) => {
  const y = (40 + i / 10).toFixed(1);
  return i % 2 === 0 ? `G0 X50 Y${y}\nG1 X70\n` : `G0 X70 Y${y}\nG1 X50\n`;
}).join('');
const { read } = readWithoutMotion({
  ...shed(),
  'part.job.yaml':
    'kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 3 mm\ntoolpath: part.gcode\ntasks:\n  - { name: rim, aim: through, program: { comment: rim } }\n  - { name: words, aim: surface, program: { comment: words } }\n',
  'part.gcode': `G21 G90\nM3 S500 F6000\n;rim\nG0 X10 Y10\nG1 X30\n;words\n${LINES}M5\nM2\n`,
});
const { toolpath } = read.files;
const asked = { job: read.input.job, toolpath, assignment: read.assignment, machine: read.input.machine };
const facts = (more: Partial<Parameters<typeof areaFacts>[0]> = {}) =>
  areaFacts({ ...asked, fullW: 50, spotMm: 0.15, ...more });

describe('a raster area', () => {
  it('is told with its task, its place and how it is run', () => {
    const [only, ...others] = facts();
    expect(others).toEqual([]);
    const [area] = toolpath!.areas;
    expect(only).toMatchObject({
      task: 'words',
      location: { file: 'part.gcode', line: 8 },
      peakLocation: { file: 'part.gcode', line: area!.peakPlace.line },
      strokes: 20,
      minX: 50,
      maxX: 70,
      spotMm: 0.15,
      speedMmPerS: 100,
      air: false,
    });
    expect([only!.minY, only!.maxY, only!.pitchMm]).toEqual([
      expect.closeTo(40, 6),
      expect.closeTo(41.9, 6),
      expect.closeTo(0.1, 6),
    ]);
    expect(only!.reachedMmPerS).toBe(area!.reachedMmPerS);
  });

  it('gets the energy of its lines over their distance', () => {
    const [only] = facts();
    // At its speed, 25 W at 100 mm/s are 0.25 J/mm, on lines 0.1 mm apart 2.5 J/mm².
    expect(only!.meanJPerMm2).toBeCloseTo(2.5, 6);
    // Where it starts and stops it burns far longer.
    expect(only!.peakJPerMm2).toBeGreaterThan(10);
    const [twice] = facts({ fullW: 100 });
    expect(twice!.peakJPerMm2).toBeCloseTo(2 * only!.peakJPerMm2!, 6);
    expect(twice!.meanJPerMm2).toBeCloseTo(2 * only!.meanJPerMm2!, 6);
  });

  it('has no energy and no spot where power and lens are not known', () => {
    expect(facts({ fullW: 0, spotMm: null })).toMatchObject([{ meanJPerMm2: null, peakJPerMm2: null, spotMm: null }]);
  });

  it('needs as much run-out as the head takes to reach its speed', () => {
    // v²/2a: 100² / (2 · 3000) mm.
    expect(facts()[0]!.runOutNeededMm).toBeCloseTo(5 / 3, 9);
    expect(facts()[0]!.runOutMm).toBe(0);
  });

  it('is of no task where none was found for it', () => {
    expect(facts({ assignment: { ...read.assignment, ofArea: Int32Array.of(-1) } })[0]!.task).toBeNull();
  });

  it('is none without a program, or on a machine that nobody knows', () => {
    expect(facts({ toolpath: null })).toEqual([]);
    expect(facts({ machine: null })).toEqual([]);
  });
});
