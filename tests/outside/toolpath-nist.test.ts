import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readToolpath } from '../../src/gcode/read.ts';
import { bytesSource } from '../../src/source/source.ts';
import { codes, ends, OPTIONS, read } from '../gcode/reading.ts';

// The interpreter's report, [NISTIR-6556].
describe('RS274/NGC as its report has it', () => {
  it('a helix by centre: from (7,7) G17 G2 X10 Y16 I3 J4 Z9 turns about (10,11) with radius 5', () => {
    const { strokes, problems } = read('F60 M3 S1\nG0 X7 Y7\nG17 G2 X10 Y16 I3 J4 Z9');
    expect(problems).toEqual([]);
    expect([strokes.centreX[0], strokes.centreY[0], strokes.endZ[0]]).toEqual([10, 11, 9]);
    expect(Math.hypot(strokes.endX[0]! - 10, strokes.endY[0]! - 11)).toBeCloseTo(5, 12);
    expect(strokes.sweepRad[0]).toBeLessThan(0);
  });

  it('G92: at X4, G92 X7 gives an offset of −3; then G92 X9 one of −5', () => {
    expect(ends(read('F60 M3 S1 G1\nX4\nG92 X7\nX8\nG92 X9\nX10'))).toEqual([
      [4, 0],
      [5, 0],
      [6, 0],
    ]);
    expect(ends(read('F60 M3 S1 G1\nX4\nG92 X7\nG92 X9\nX0'))[1]).toEqual([-5, 0]);
  });

  // Section 3.5.18: the offset is the difference that gives the point these coordinates in the system in force, and all nine
  // systems are shifted by it. In G54 from X100, at X104 there: G92 X7 shifts by −3, so X8 is 105; in G55 from X200 it is 205.
  it('G92: the offset comes on top of the origin of whichever system is in force', () => {
    const program = 'F60 M3 S1 G1\nG10 L2 P1 X100 Y50\nG10 L2 P2 X200\nX4 Y1\nG92 X7 Y1\nX8 Y2\nG55 X8 Y2';
    expect(ends(read(program))).toEqual([
      [104, 51],
      [105, 52],
      [205, 2],
    ]);
  });

  // Section 3.5.5: P is the number of a coordinate system, "in the range from 1 to 9".
  it('G10: there are nine systems, and no tenth', () => {
    expect(ends(read('F60 M3 S1 G1\nG10 L2 P9 X30\nG59.3 X1'))).toEqual([[31, 0]]);
    const tenth = read('F60 M3 S1 G1\nG10 L2 P10 X30\nX1');
    expect(tenth.analysed).toBe(false);
    expect(codes(tenth)).toContain('not-analysed');
    expect(ends(tenth)).toEqual([[1, 0]]);
  });

  it('G93: F2 means that the move takes half a minute', () => {
    const toolpath = read('M3 S1\nG93 G1 X30 F2', { accelerationMmPerS2: 1e9 });
    expect(toolpath.time.cuttingS).toBeCloseTo(30, 6);
  });

  it('M2 and M30 put back G54, G17, G90, G94, G1, and switch beam and air off', async () => {
    const { ModalState } = await import('../../src/gcode/modal/state.ts');
    const state = new ModalState();
    Object.assign(state, {
      system: 3,
      plane: 'YZ',
      absolute: false,
      feedMode: 'inverse-time',
      motion: 20,
      mode: 'M4',
      air: true,
      mist: true,
    });
    state.shift.set([1, 2, 3]);
    state.endProgram();
    expect(state).toMatchObject({
      system: 0,
      plane: 'XY',
      absolute: true,
      feedMode: 'per-minute',
      motion: 10,
      mode: 'off',
      air: false,
      mist: false,
    });
    expect(Array.from(state.shift)).toEqual([0, 0, 0]);
  });

  it('blanks and tabs are allowed everywhere: "g0x +0. 12 34y 7" is "g0 x+0.1234 y7"', () => {
    const toolpath = read('g0x +0. 12 34y 7');
    expect(toolpath.boundsMm).toMatchObject({ maxX: 0.1234, maxY: 7 });
  });
});

const FOLDER = '/work/shared/corpus/gcode';
const file = (name: string) => readToolpath(bytesSource(name, readFileSync(`${FOLDER}/${name}`)), OPTIONS);

describe.skipIf(!existsSync(FOLDER))('the programs of the report (runs where the corpus is)', () => {
  it('nist-c1 mills between X0 and X81, as its first line states', () => {
    const toolpath = file('nist-c1.ngc');
    expect(toolpath.poweredBoundsMm).toMatchObject({ minX: 0, maxX: 81 });
    expect(toolpath.analysed).toBe(true);
    expect(toolpath.end.stated).toBe(true);
  });

  it('nist-test02: what stands behind M2 is not carried out, as its comment states', () => {
    const toolpath = file('nist-test02.ngc');
    expect(toolpath.boundsMm!.maxX).toBeCloseTo(25.4, 9);
    expect(codes(toolpath)).toContain('after-end');
  });

  it('nist-test01: what stands behind the second % is ignored, as it states', () => {
    expect(file('nist-test01.ngc')).toMatchObject({ analysed: true, moves: 0 });
  });

  it('nist-test13, the modal group conflict test: G17 G18', () => {
    const conflict = file('nist-test13.ngc').problems.find((p) => p.code === 'modal-conflict');
    expect(conflict?.args).toEqual({ first: 'G17', second: 'G18', group: 'plane' });
  });

  it('nist-test09 to 12 make the same arcs by centre and by radius', () => {
    const sweeps = (name: string) => Array.from(file(name).strokes.sweepRad).filter((sweep) => sweep !== 0);
    for (const [byCentre, byRadius] of [
      ['nist-test09.ngc', 'nist-test11.ngc'],
      ['nist-test10.ngc', 'nist-test12.ngc'],
    ] as const) {
      const centre = sweeps(byCentre);
      const radius = sweeps(byRadius);
      expect(centre).toHaveLength(4);
      centre.forEach((sweep, i) => {
        expect(radius[i]).toBeCloseTo(sweep, 2);
      });
    }
    // Their comments state the angles.
    sweeps('nist-test09.ngc').forEach((sweep, i) => {
      expect((-sweep * 180) / Math.PI).toBeCloseTo([45, 135, 225, 315][i]!, 1);
    });
  });

  it('nist-c3 holds canned cycles: not analysed, and a drill’s program', () => {
    const toolpath = file('nist-c3.ngc');
    expect(toolpath.analysed).toBe(false);
    expect(toolpath.problems.find((p) => p.code === 'wrong-kind')?.args['kind']).toBe('drill');
  });
});
