// Other numbers of passes: which strokes are run again or left out, and which of them then lie on each other.
import { describe, expect, it } from 'vitest';
import type { StretchList } from '../../../src/facts/cuts/passes.ts';
import { passOfStrokes, RerunStretches, runsFor } from '../../../src/facts/what-if/pass-order.ts';
import { Stretch } from '../../../src/geometry/overlap/stretches.ts';
import { STROKE_AIR, STROKE_STARTS_PATH, StrokeStore } from '../../../src/model/strokes.ts';

/** Strokes of which those named start a path; the air is on throughout. */
function strokes(count: number, starts: readonly number[] = [0]) {
  const store = new StrokeStore();
  store.count = count;
  for (let i = 0; i < count; i++) store.flags[i] = STROKE_AIR | (starts.includes(i) ? STROKE_STARTS_PATH : 0);
  return store.finish();
}
const bytes = (...values: number[]) => Uint8Array.from(values);

function stretch(owners: readonly number[], more: Partial<Stretch> = {}): Stretch {
  const one = new Stretch();
  one.owners.set(owners);
  return Object.assign(one, { owner: owners[0], listed: owners.length, passes: owners.length }, more);
}
const listOf = (stretches: readonly Stretch[], endedEarly: string | null = null): StretchList => ({
  endedEarly,
  each: (visit) => stretches.forEach(visit),
});

describe('which pass a stroke is', () => {
  it('is its place among the strokes that run along one line', () => {
    expect([...passOfStrokes(strokes(4), listOf([stretch([0, 2, 3]), stretch([1])]))]).toEqual([0, 0, 1, 2]);
  });

  it('is the earliest where it runs along several', () => {
    const list = listOf([stretch([0, 2]), stretch([1, 2]), stretch([2]), stretch([1, 3])]);
    expect([...passOfStrokes(strokes(4), list)]).toEqual([0, 0, 0, 1]);
    expect([...passOfStrokes(strokes(3), listOf([stretch([2]), stretch([0, 1, 2])]))]).toEqual([0, 1, 0]);
  });
});

describe('how strokes are run for other numbers of passes', () => {
  it('is as they are where nothing is wanted of them', () => {
    expect(runsFor(strokes(3), bytes(0, 0, 0), bytes(0, 0, 0))).toEqual([]);
    expect(runsFor(strokes(3), bytes(0, 0, 0), bytes(1, 1, 1))).toEqual([]);
  });

  it('is a path as a whole, so often in a row', () => {
    expect(runsFor(strokes(4), bytes(0, 0, 0, 0), bytes(3, 3, 3, 3))).toEqual([{ first: 0, until: 4, times: 3 }]);
  });

  it('is each path for itself', () => {
    expect(runsFor(strokes(5, [0, 2]), bytes(0, 0, 0, 0, 0), bytes(2, 2, 2, 2, 2))).toEqual([
      { first: 0, until: 2, times: 2 },
      { first: 2, until: 5, times: 2 },
    ]);
  });

  it('leaves later passes out', () => {
    const passOf = bytes(0, 0, 1, 1, 2, 2);
    const later = [
      { first: 2, until: 4, times: 0 },
      { first: 4, until: 6, times: 0 },
    ];
    const path = strokes(6, [0, 2, 4]);
    expect(runsFor(path, passOf, bytes(1, 1, 1, 1, 1, 1))).toEqual(later);
    expect(runsFor(path, passOf, bytes(2, 2, 2, 2, 2, 2))).toEqual([{ first: 0, until: 2, times: 2 }, ...later]);
    // A pass that goes on where the one before ends starts no path.
    expect(runsFor(strokes(4), bytes(0, 0, 1, 1), bytes(2, 2, 2, 2))).toEqual([
      { first: 0, until: 2, times: 2 },
      { first: 2, until: 4, times: 0 },
    ]);
  });

  it('leaves the strokes of other cuts as they are', () => {
    expect(runsFor(strokes(5), bytes(0, 0, 0, 0, 0), bytes(0, 2, 2, 0, 3))).toEqual([
      { first: 1, until: 3, times: 2 },
      { first: 4, until: 5, times: 3 },
    ]);
    expect(runsFor(strokes(3), bytes(0, 0, 1), bytes(2, 2, 0))).toEqual([{ first: 0, until: 2, times: 2 }]);
  });
});

describe('what lies on each other after strokes were run otherwise', () => {
  /** Stretches as they are seen, copied: the one that is handed over is used again. */
  function seen(list: StretchList) {
    const all: object[] = [];
    list.each((one) => {
      const { owner, passes, listed, x0, y0, x1, y1, lengthMm } = one;
      all.push({ owner, passes, owners: [...one.owners.subarray(0, listed)], x0, y0, x1, y1, lengthMm });
    });
    return all;
  }
  const made = (times: number[], firstOf: number[], apart: number[]) => ({
    times: Uint8Array.from(times),
    firstOf: Uint32Array.from(firstOf),
    apart: Uint32Array.from(apart),
  });
  const lies = { x0: 1, y0: 2, x1: 4, y1: 6, lengthMm: 5 };

  it('are all copies, in the order in which they are run, where the line was', () => {
    // A path of the strokes 0 and 1 that runs twice along one line: its copies are 2 apart.
    const list = listOf([stretch([0, 1], lies)]);
    expect(seen(new RerunStretches(list, made([2, 2], [0, 1], [2, 2])))).toEqual([
      { ...lies, owner: 0, passes: 4, owners: [0, 1, 2, 3] },
    ]);
    const [interleaved] = seen(new RerunStretches(list, made([3, 2], [10, 11], [9, 5])));
    expect(interleaved).toMatchObject({ owner: 10, passes: 5, owners: [10, 11, 16, 19, 28] });
  });

  it('is without the strokes that are left out, and nothing where all are', () => {
    const list = listOf([stretch([0, 1, 2], lies), stretch([1, 2], lies), stretch([2, 3], { ...lies, owner: 2 })]);
    expect(seen(new RerunStretches(list, made([2, 0, 0, 1], [0, 0, 0, 2], [1, 1, 1, 1])))).toEqual([
      { ...lies, owner: 0, passes: 2, owners: [0, 1] },
      { ...lies, owner: 2, passes: 1, owners: [2] },
    ]);
  });

  it('keeps as its owner the stroke that gives it its place, wherever that is run now', () => {
    const list = listOf([stretch([0, 3], { ...lies, owner: 3 })]);
    expect(seen(new RerunStretches(list, made([1, 1, 1, 1], [4, 5, 6, 8], [1, 1, 1, 1])))).toMatchObject([
      { owner: 8, owners: [4, 8] },
    ]);
  });

  it('counts passes beyond those that are listed', () => {
    const many = listOf([stretch([0, 1], { ...lies, passes: 300 })]);
    expect(seen(new RerunStretches(many, made([1, 1], [0, 1], [2, 2])))).toMatchObject([{ passes: 300 }]);
    expect(seen(new RerunStretches(many, made([2, 1], [0, 1], [2, 2])))).toMatchObject([{ passes: 301 }]);
    const [often] = seen(new RerunStretches(listOf([stretch([0, 1])]), made([200, 200], [0, 200], [1, 1])));
    expect(often).toMatchObject({ passes: 400, owners: Array.from({ length: 255 }, (_, i) => i) });
  });

  it('is as far followed as it was before', () => {
    const none = made([], [], []);
    expect(new RerunStretches(listOf([], 'too many lie on each other'), none).endedEarly).toBe(
      'too many lie on each other',
    );
    expect(new RerunStretches(listOf([]), none).endedEarly).toBeNull();
  });
});
