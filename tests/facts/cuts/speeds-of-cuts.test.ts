import { describe, expect, it } from 'vitest';
import type { Strokes } from '../../../src/model/strokes.ts';
import { workFor } from '../../../src/units/work.ts';
import { type Case, cutsAlong, type Place } from './cuts-along.ts';

const ROW: readonly Place[] = [0, 30, 40, 60].map((x): Place => [x, 0]);

describe('what the speed of a cut is told', () => {
  const speedOf = (points: readonly Place[], change: (strokes: Strokes) => void) =>
    cutsAlong(points, change).items[0]!.speed;

  it('is the share of its length that stays below the programmed speed, by more than a tenth', () => {
    const speed = speedOf(ROW, ({ speedMmPerS, reachedMmPerS }) => {
      speedMmPerS.fill(10);
      // 30 mm at nine tenths, 10 mm below, 20 mm above.
      reachedMmPerS.set([9, 8.9, 9.5]);
    });
    expect(speed).toEqual({
      belowShare: expect.closeTo(10 / 60, 9),
      reachedMmPerS: 9.5,
      programmedMmPerS: 10,
      location: { file: 'coaster.gcode', line: 10, column: 1, endLine: 10, endColumn: 1 },
    });
  });

  it('is the length in both directions, and the fastest of what is programmed to a thousandth', () => {
    const speed = speedOf(
      [
        [0, 0],
        [30, 40],
        [30, 90],
      ],
      ({ speedMmPerS, reachedMmPerS }) => {
        speedMmPerS.set([10, 10.0002]);
        reachedMmPerS.set([1, 10]);
      },
    );
    expect(speed.belowShare).toBeCloseTo(0.5, 9);
    expect(speed.programmedMmPerS).toBe(10.0002);
  });

  it('counts a full circle as a millimetre, and every stroke where all are reached', () => {
    const circle = ({ endX, sweepRad, centreX, centreY, reachedMmPerS }: Strokes) => {
      endX.set([0]);
      sweepRad.set([2 * Math.PI]);
      centreX.set([5]);
      centreY.set([0]);
      reachedMmPerS.set([3, 12]);
    };
    // The circle, and 9 mm of line.
    const points: Place[] = [
      [0, 0],
      [60, 0],
      [69, 0],
    ];
    expect(speedOf(points, circle).belowShare).toBeCloseTo(0.1, 9);
    expect(speedOf(points, () => {}).belowShare).toBe(0);
  });

  it('is 0 where none is programmed', () => {
    expect(speedOf(ROW, ({ speedMmPerS }) => speedMmPerS.fill(Number.NaN)).programmedMmPerS).toBe(0);
  });
});

describe('a program of more recipes than are predicted', () => {
  const within = (predictedPasses: number, more: Case = {}) => ({
    ...more,
    context: { work: { ...workFor(0), predictedPasses } },
  });
  const four: readonly Place[] = [0, 30, 40, 60, 65].map((x): Place => [x, 0]);
  const apart = ({ setting }: Strokes) => setting.set([0.3, 0.5, 0.6, 0.8]);
  // A cut costs as much as three passes, and one more for each of its own: 4, 8, 12 and 16.
  const all = (predictedPasses: number) => cutsAlong(four, apart, within(predictedPasses));

  it('has all of them predicted as long as they are not too many', () => {
    const { items, endedEarly } = all(16);
    expect(items.map(({ cut }) => cut.notPredicted)).toEqual([null, null, null, null]);
    expect(endedEarly).toBeNull();
  });

  it('has the first of them predicted and the others listed as one, and says so', () => {
    const { items, endedEarly } = all(8);
    const why =
      'so many lines are run along again at so many settings that 50 % of the cuts were predicted, and the others of each task are listed as one';
    expect(items.map(({ cut }) => [cut.lengthMm, cut.notPredicted, cut.prediction === null])).toEqual([
      [30, null, false],
      [10, null, false],
      [25, why, true],
    ]);
    expect(endedEarly).toBe(why);
    expect(all(15).items.map(({ cut }) => cut.lengthMm)).toEqual([30, 10, 20, 5]);
    expect(all(15).endedEarly).toContain('75 %');
  });

  it('has one of them predicted however little may be done', () => {
    for (const few of [0, 4, 7]) {
      expect(all(few).items.map(({ cut }) => cut.prediction !== null)).toEqual([true, false]);
    }
  });

  it('has those of each task listed apart', () => {
    const { items } = cutsAlong(four, apart, within(4, { tasks: [0, 1, 0, 1] }));
    expect(items.map(({ cut }) => [cut.taskIndex, cut.lengthMm])).toEqual([
      [0, 30],
      [1, 15],
      [0, 20],
    ]);
  });

  it('has the fewer of them predicted the more the focus moves', () => {
    // Two lines of two passes each: five and five where the focus stays, 5.2 and 5.2 where each pass has its own.
    const stretches = [
      { from: [0, 0], to: [30, 0], owners: [0, 1] },
      { from: [30, 0], to: [40, 0], owners: [2, 3] },
    ] as const;
    const predicted = (mostPasses: number, z: number) =>
      cutsAlong(
        four,
        ({ setting, startZ }) => {
          setting.set([0.3, 0.3, 0.8, 0.8]);
          startZ.set([0, z, 0, z]);
        },
        within(mostPasses, { stretches }),
      ).items.filter(({ cut }) => cut.prediction !== null).length;
    expect([predicted(10, 0), predicted(9.9, 0)]).toEqual([2, 1]);
    expect([predicted(10.5, -1), predicted(10.3, -1)]).toEqual([2, 1]);
  });

  it('says both where the search for passes ended early as well', () => {
    const stretches = [0, 1, 2, 3].map((i) => ({ from: four[i]!, to: four[i + 1]!, owners: [i] }));
    const { endedEarly } = cutsAlong(four, apart, within(8, { stretches, stretchesEndedEarly: 'whatever' }));
    expect(endedEarly).toMatch(
      /^so many strokes lie on each other .* be followed, and so many lines are run along again/,
    );
  });
});
