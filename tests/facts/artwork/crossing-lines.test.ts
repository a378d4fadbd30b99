import { describe, expect, it } from 'vitest';
import { crossingLines } from '../../../src/facts/artwork/crossing-lines.ts';
import { workFor } from '../../../src/units/work.ts';
import { drawn, path, rect } from './drawn.ts';

const crossings = (...elements: string[]) => crossingLines(drawn(...elements), 0.2, workFor(0));

describe('an outline that crosses itself', () => {
  it('is told once, with its number and line, its first crossing and how many there are', () => {
    // The second drops twice through its own top edge, at x = 40 and x = 30.
    const comb = path('M10 50 H50 V60 H40 V40 H30 V60 H10 Z');
    const { selfCrossing, overlappingParts } = crossings(rect(100, 10, 20, 20), comb);
    expect(selfCrossing.items).toMatchObject([{ outline: 1, location: { file: 'gate.svg', line: 3 }, count: 2 }]);
    const [{ xMm, yMm }] = selfCrossing.items as [(typeof selfCrossing.items)[0]];
    expect([xMm, yMm]).toEqual([expect.closeTo(40, 6), expect.closeTo(50, 6)]);
    expect(overlappingParts.items).toEqual([]);
  });

  it('may be open', () => {
    expect(crossings(path('M10 10 H50 V30 H30 V0')).selfCrossing.items).toMatchObject([{ outline: 0, count: 1 }]);
  });
});

describe('parts that overlap', () => {
  it('are told once, with both lines and where they cross first', () => {
    const { selfCrossing, overlappingParts } = crossings(rect(10, 10, 30, 40), rect(30, 20, 30, 40));
    expect(selfCrossing.items).toEqual([]);
    expect(overlappingParts.items).toMatchObject([{ location: { line: 3 }, other: { line: 2 } }]);
    // The sides cross at (40, 20) and (30, 50).
    const [{ xMm, yMm }] = overlappingParts.items as [(typeof overlappingParts.items)[0]];
    expect([
      [40, 20],
      [30, 50],
    ]).toContainEqual([Math.round(xMm * 1e6) / 1e6, Math.round(yMm * 1e6) / 1e6]);
  });

  it('are told of each two', () => {
    const three = crossings(rect(10, 10, 30, 40), rect(30, 20, 30, 40), rect(50, 10, 30, 40));
    expect(three.overlappingParts.items.map(({ other, location }) => [other.line, location.line])).toEqual([
      [2, 3],
      [3, 4],
    ]);
  });

  it('are closed, both of them: an open line across a part is none', () => {
    const line = path('M0 30 H90');
    const part = rect(10, 10, 30, 40);
    expect(crossings(line, part).overlappingParts.items).toEqual([]);
    expect(crossings(part, line).overlappingParts.items).toEqual([]);
    expect(crossings(path('M20 0 V90'), line).overlappingParts.items).toEqual([]);
  });
});

it('crossings may be more than were found where the search ended early', () => {
  const lines = drawn(rect(10, 10, 30, 40), rect(30, 20, 30, 40));
  const whole = crossingLines(lines, 0.2, workFor(0));
  expect([whole.selfCrossing.endedEarly, whole.overlappingParts.endedEarly]).toEqual([null, null]);
  const cut = crossingLines(lines, 0.2, { ...workFor(0), crossings: 0 });
  expect(cut.selfCrossing.endedEarly).toMatch(/searched for crossings/);
  expect(cut.overlappingParts.endedEarly).toBe(cut.selfCrossing.endedEarly);
});
