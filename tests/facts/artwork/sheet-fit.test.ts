import { describe, expect, it } from 'vitest';
import { offSheet } from '../../../src/facts/artwork/sheet-fit.ts';
import { toolpath } from '../../rules/build-files.ts';
import { sidecar } from '../../rules/build-job.ts';
import { drawn, rect } from './drawn.ts';

type Zero = NonNullable<ReturnType<typeof sidecar>['zero']>;

/** What lies off a sheet of so much by so much: number, line and by how much. */
function off(elements: string[], [widthMm, heightMm]: [number, number], zero: Zero | null = 'sheet-corner') {
  const job = sidecar({ zero, sheet: { widthMm, heightMm } });
  return offSheet(drawn(...elements), { sidecar: job, toolpath: null }).map(({ outline, location, byMm }) => [
    outline,
    `${location.file}:${location.line}`,
    Math.round(byMm * 1e6) / 1e6,
  ]);
}

const LABEL = rect(20, 20, 30, 20);

describe('outlines that reach outside the sheet', () => {
  it.each<[string, string, number]>([
    ['on the left', rect(-4, 20, 30, 20), 4],
    ['at the top', rect(20, -3, 30, 20), 3],
    ['on the right', rect(75, 20, 30, 20), 5],
    ['at the bottom', rect(20, 46, 30, 20), 6],
    ['by the most of all sides', rect(-1, -2, 104, 65), 4 - 1],
  ])('%s', (_, element, byMm) => {
    expect(off([LABEL, element], [100, 60])).toEqual([[1, 'gate.svg:3', byMm]]);
  });

  it('are none on the edge, to a twentieth of a millimetre', () => {
    expect(off([LABEL, rect(0, 0, 100.04, 60)], [100, 60])).toEqual([]);
    expect(off([LABEL, rect(0, 0, 100.06, 60)], [100, 60])).toEqual([[1, 'gate.svg:3', 0.06]]);
  });

  it('are counted from the page’s corner unless the person sets the head by hand', () => {
    for (const zero of ['machine', null] as const) expect(off([LABEL], [40, 60], zero)).toHaveLength(1);
    expect(off([LABEL], [40, 60], 'set-by-hand')).toEqual([]);
  });

  it('by hand are those beyond the extent, from the top and the left of what is drawn', () => {
    const below = rect(20, 70, 30, 20);
    // From y = 20 to 90: 70 mm.
    expect(off([LABEL, below], [40, 71], 'set-by-hand')).toEqual([]);
    expect(off([LABEL, below], [40, 60], 'set-by-hand')).toEqual([[1, 'gate.svg:3', 10]]);
    const beside = rect(120, 20, 30, 20);
    expect(off([LABEL, beside], [131, 30], 'set-by-hand')).toEqual([]);
    expect(off([LABEL, beside], [120, 30], 'set-by-hand')).toEqual([[1, 'gate.svg:3', 10]]);
  });

  it('are not asked for without a sheet, nor where a toolpath says what runs', () => {
    const lines = drawn(rect(-4, 20, 30, 20));
    expect(offSheet(lines, { sidecar: null, toolpath: null })).toEqual([]);
    expect(offSheet(lines, { sidecar: sidecar({ sheet: null }), toolpath: null })).toEqual([]);
    expect(offSheet(lines, { sidecar: sidecar(), toolpath: null })).toHaveLength(1);
    expect(offSheet(lines, { sidecar: sidecar(), toolpath: toolpath() })).toEqual([]);
  });
});
