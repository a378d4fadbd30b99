import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Apartness } from '../../src/geometry/overlap/apartness.ts';
import { meetingsOf } from '../../src/geometry/overlap/meetings.ts';
import { directionAllowances } from '../../src/geometry/overlap/turning.ts';
import { SegmentBuilder, type Segments, totalLengthMm } from '../../src/geometry/segments/segments.ts';

const TOLERANCE_MM = 0.05;

/** Chains of short segments that bend a little, on a sheet so small that they lie on each other. */
const crowds = fc
  .record({
    sideMm: fc.constantFrom(2, 5, 20, 80),
    chains: fc.array(
      fc.record({
        x: fc.double({ min: 0, max: 1, noNaN: true }),
        y: fc.double({ min: 0, max: 1, noNaN: true }),
        direction: fc.integer({ min: 0, max: 23 }),
        bend: fc.constantFrom(0, 0, 0.15, -0.15, 0.4),
        stepMm: fc.constantFrom(0.2, 0.3, 0.5, 1.1),
        steps: fc.integer({ min: 1, max: 25 }),
        again: fc.integer({ min: 0, max: 3 }),
      }),
      { minLength: 1, maxLength: 25 },
    ),
  })
  .map(({ sideMm, chains }) => {
    const builder = new SegmentBuilder();
    for (const chain of chains) {
      for (let time = 0; time <= chain.again; time++) {
        let [x, y, angle] = [chain.x * sideMm, chain.y * sideMm + time * 0.03, (chain.direction * Math.PI) / 12];
        for (let step = 0; step < chain.steps; step++) {
          const [nextX, nextY] = [x + chain.stepMm * Math.cos(angle), y + chain.stepMm * Math.sin(angle)];
          builder.addLine(x, y, nextX, nextY, 0);
          [x, y, angle] = [nextX, nextY, angle + chain.bend];
        }
      }
    }
    return builder.finish();
  });

/** All pairs, each compared with each. */
function byBruteForce(segments: Segments, apartness: Apartness): number[] {
  const pairs: number[] = [];
  for (let later = 1; later < segments.count; later++)
    for (let earlier = 0; earlier < later; earlier++)
      if (!apartness.areApart(earlier, later)) pairs.push(later * segments.count + earlier);
  return pairs;
}

function meetings(segments: Segments) {
  const allowance = directionAllowances(segments);
  const apartness = new Apartness(segments, allowance, TOLERANCE_MM);
  const meanMm = totalLengthMm(segments) / segments.count;
  return { apartness, met: meetingsOf(segments, allowance, apartness, TOLERANCE_MM, meanMm, 11) };
}

describe('meetings in small squares of the sheet', () => {
  it('are those that comparing each with each finds, each once', () => {
    let answered = 0;
    let asked = 0;
    fc.assert(
      fc.property(crowds, (segments) => {
        const { apartness, met } = meetings(segments);
        asked++;
        if (met === null) return;
        answered++;
        const pairs = byBruteForce(segments, apartness);
        const times = new Uint8Array(segments.count);
        for (const pair of pairs)
          for (const i of [Math.floor(pair / segments.count), pair % segments.count])
            times[i] = Math.min(11, times[i]! + 1);
        expect(met.times).toEqual(times);
        if (met.pairs) expect([...met.pairs].sort((a, b) => a - b)).toEqual(pairs);
        else expect(pairs.length).toBeGreaterThan(2 * segments.count);
      }),
      { numRuns: 300 },
    );
    // Where it gives up it says nothing: that must stay the exception.
    expect(answered / asked).toBeGreaterThan(0.5);
  });

  it('gives up where long lines cross the whole sheet', () => {
    const builder = new SegmentBuilder();
    for (let k = 0; k < 400; k++) builder.addLine(0, k, 400, 400 - k, 0);
    for (let k = 0; k < 4000; k++) builder.addLine(k / 10, 0, k / 10 + 0.05, 0.05, 0);
    expect(meetings(builder.finish()).met).toBeNull();
  });

  it('gives up where too many lie at one place', () => {
    const builder = new SegmentBuilder();
    for (let k = 0; k < 3000; k++) builder.addLine(Math.cos(k), Math.sin(k), -Math.cos(k), -Math.sin(k), 0);
    expect(meetings(builder.finish()).met).toBeNull();
  });
});
