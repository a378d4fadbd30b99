import { describe, expect, it } from 'vitest';
import { unchanged } from '../../../src/facts/cuts/remedy-text.ts';
import { type DrawingRequest, drawingOf } from '../../../src/facts/drawing/drawing.ts';
import type { ReachGoal } from '../../../src/facts/drawing/drawing-model.ts';
import type { JobFacts } from '../../../src/facts/facts.ts';
import type { AreaFact } from '../../../src/facts/order/areas.ts';
import type { Coupon } from '../../../src/job/model.ts';
import {
  artwork,
  artworkOnly,
  at,
  cut,
  facts,
  machine,
  material,
  rasterArea,
  sidecar,
  task,
  toolpath,
} from '../../rules/build-facts.ts';

const drawn = (job: JobFacts, change: Partial<DrawingRequest> = {}) =>
  drawingOf(job, { reach: null, findings: [], points: 1000, ...change });

const LAID = {
  placement: { scale: 1, quarterTurns: 0, mirrored: false, dxMm: 0, dyMm: 100, offsetMm: 0, ambiguous: null },
} as unknown as JobFacts['match'];

describe('a drawing', () => {
  it('has the name of its job, stands upright with a toolpath, and on the page without', () => {
    expect(drawn(facts())).toMatchObject({ job: 'coaster', yUp: true });
    expect(drawn(artworkOnly())).toMatchObject({ job: 'coaster', yUp: false });
  });

  it('has its tasks with length and time to a tenth', () => {
    const tasks = [task({ name: 'rim', aim: 'groove', lengthMm: 299.96, timeS: 25.04 })];
    expect(drawn(facts({ tasks })).tasks).toEqual([{ name: 'rim', aim: 'groove', lengthMm: 300, timeS: 25 }]);
  });

  it('has its shaded areas, rounded', () => {
    const area = {
      task: 'picture',
      location: at('coaster.gcode', 40),
      minX: 1.004,
      minY: 2.006,
      maxX: 41.234,
      maxY: 32.567,
      meanJPerMm2: 1.23456,
      peakJPerMm2: 2.34567,
      pitchMm: 0.12345,
    } as AreaFact;
    const job = (change: Partial<AreaFact>) =>
      facts({ toolpath: toolpath({ areas: [rasterArea(0.3)] }), areas: [{ ...area, ...change }] });
    expect(drawn(job({})).areas).toEqual([
      {
        task: 'picture',
        minX: 1,
        minY: 2.01,
        maxX: 41.23,
        maxY: 32.57,
        meanJPerMm2: 1.235,
        peakJPerMm2: 2.346,
        pitchMm: 0.123,
        file: 'coaster.gcode',
        line: 40,
      },
    ]);
    expect(drawn(job({ task: null, meanJPerMm2: null, peakJPerMm2: null })).areas).toMatchObject([
      { task: null, meanJPerMm2: null, peakJPerMm2: null },
    ]);
  });

  it('has travel as the reader kept it, and says of how much it did not', () => {
    const travels = { count: 2, xy: Float32Array.of(0, 0, 10, 10, 10, 80, 0, 90), dropped: 7 };
    const { travels: lines, leftOut, detail } = drawn(facts({ toolpath: toolpath({ travels }) }));
    expect(lines).toEqual([
      [0, 0, 10, 10],
      [10, 80, 0, 90],
    ]);
    expect(leftOut).toBe(7);
    expect(detail.travels).toEqual({ withinMm: 0.05, corners: 4, kept: 4 });
    expect(drawn(artworkOnly())).toMatchObject({ travels: [], leftOut: 0 });
  });

  it('pins findings where they have a place', () => {
    const findings = [
      { fingerprint: 'a', location: at('coaster.gcode', 11) },
      { fingerprint: 'b', location: at('shed-60w.machine.yaml', 3) },
    ];
    expect(drawn(facts(), { findings }).pins).toEqual([{ fingerprint: 'a', x: 90, y: 10 }]);
    const strokes = { ...toolpath().strokes, startX: Float64Array.of(10.006, 90, 90, 10) };
    const [pin] = drawn(facts({ toolpath: toolpath({ strokes }) }), {
      findings: [{ fingerprint: 'a', location: at('coaster.gcode', 10) }],
    }).pins;
    expect(pin).toEqual({ fingerprint: 'a', x: 10.01, y: 10 });
  });
});

describe('the view', () => {
  it('is that of the motion and the sheet, of whichever there is', () => {
    const sheet = {
      input: { ...facts().input, sidecar: { ...sidecar(), sheet: { ...SHEET, atXMm: -5.004, atYMm: 20 } } },
    };
    expect(drawn(facts(sheet)).view).toEqual({ minX: -5, minY: 0, maxX: 295, maxY: 220 });
    expect(drawn(facts({ ...NO_SHEET })).view).toEqual({ minX: 0, minY: 0, maxX: 90, maxY: 80 });
    expect(drawn(artworkOnly({ ...NO_SHEET })).view).toEqual({ minX: 10, minY: 10, maxX: 90, maxY: 80 });
    const nothing = { ...NO_SHEET, artwork: null, cuts: [] };
    expect(drawn(artworkOnly(nothing)).view).toEqual({ minX: 0, minY: 0, maxX: 1, maxY: 1 });
  });

  it('holds cuts that go beyond both, on every side', () => {
    const [rim] = artwork().outlines;
    const cross = { ...rim!, closed: false, xy: Float64Array.of(-30, 40, 400.006, 40, 400, 250, 50, -20) };
    const wide = { ...NO_SHEET, artwork: artwork({ outlines: [cross] }) };
    expect(drawn(artworkOnly(wide)).view).toEqual({ minX: -30, minY: -20, maxX: 400.01, maxY: 250 });
  });
});

const SHEET = { widthMm: 300, heightMm: 200, price: null, atXMm: 0, atYMm: 0 };
const NO_SHEET = { input: { ...facts().input, sidecar: { ...sidecar(), sheet: null } } };

describe('the sheet', () => {
  const sheetWith = (zero: 'machine' | 'sheet-corner' | 'set-by-hand' | null, base = facts) =>
    drawn(base({ input: { sidecar: { ...sidecar(), zero, sheet: { ...SHEET, atXMm: 15, atYMm: 40 } } } } as never))
      .sheet;

  it('lies at its place on the bed, at the zero, or nobody knows where', () => {
    expect(sheetWith('machine')).toEqual({ minX: 15, minY: 40, maxX: 315, maxY: 240 });
    expect(sheetWith('sheet-corner')).toEqual({ minX: 0, minY: 0, maxX: 300, maxY: 200 });
    expect(sheetWith('set-by-hand')).toBeNull();
    expect(sheetWith(null)).toBeNull();
  });

  it('is the page’s corner with artwork alone, whatever the zero', () => {
    for (const zero of ['machine', 'sheet-corner', 'set-by-hand', null] as const) {
      expect(sheetWith(zero, artworkOnly)).toEqual({ minX: 0, minY: 0, maxX: 300, maxY: 200 });
    }
  });

  it('is not drawn where there is no sidecar', () => {
    expect(drawn(facts({ input: { ...facts().input, sidecar: null } })).sheet).toBeNull();
  });
});

describe('the bed', () => {
  it('is what the axes reach around the motion', () => {
    // The motion from 0, 0 in the program lies at 12.006, 5 on a bed of 600 × 400 mm.
    const job = facts({ onBed: { minX: 12.006, minY: 5, maxX: 102, maxY: 85 } });
    expect(drawn(job).bed).toEqual({ minX: -12.01, minY: -5, maxX: 587.99, maxY: 395 });
  });

  it.each<[string, Partial<JobFacts>]>([
    ['machine', { machine: null }],
    ['place on it', { onBed: null }],
    ['motion', { toolpath: { ...toolpath(), boundsMm: null } }],
    ['toolpath', { toolpath: null }],
  ])('is not known without a %s', (_, change) => {
    expect(drawn(facts(change)).bed).toBeNull();
  });
});

describe('artwork in a drawing', () => {
  it('lies under the toolpath where it was found in it', () => {
    expect(drawn(facts({ match: LAID })).artwork).toEqual([[10, 90, 90, 90, 90, 20, 10, 20, 10, 90, 10, 90]]);
    expect(drawn(facts({ match: null })).artwork).toEqual([]);
    expect(drawn(facts({ match: LAID, artwork: null })).artwork).toEqual([]);
  });

  it('is not drawn twice where its lines are the cuts', () => {
    const [rim] = artwork().outlines;
    const line = { ...rim!, xy: Float64Array.of(20, 20, 40, 20), closed: false };
    const both = artwork({ outlines: [line, { ...line, xy: Float64Array.of(20, 30, 40, 30) }] });
    expect(drawn(artworkOnly({ artwork: both })).artwork).toEqual([[20, 30, 40, 30]]);
    // Numbers of a cut of the toolpath are those of strokes.
    expect(drawn(facts({ artwork: both, match: LAID })).artwork).toHaveLength(2);
  });
});

describe('the points of a drawing', () => {
  const [rim] = artwork().outlines;
  const rows = (count: number, step = 5) =>
    Array.from({ length: count }, (_, i) => ({
      ...rim!,
      xy: Float64Array.of(0, step * i, 50, step * i),
      closed: false,
    }));
  const strokes = Uint32Array.from({ length: 40 }, (_, i) => i);

  it('go to cuts by four fifths at most', () => {
    const job = artworkOnly({ artwork: artwork({ outlines: rows(40) }), cuts: [cut({ strokes })] });
    // 80 points, of 100 and of 99.
    expect(drawn(job, { points: 100 }).detail.cuts).toEqual({ withinMm: 0.05, corners: 80, kept: 80 });
    expect(drawn(job, { points: 99 }).detail.cuts.withinMm).toBeGreaterThan(0.05);
  });

  it('go to artwork by half of what cuts leave, and to travel by the rest', () => {
    const travel = (count: number) => ({
      count,
      xy: Float32Array.from({ length: 4 * count }, (_, i) => (i % 2 ? 5 * (i >> 2) : i % 4 ? 50 : 0)),
      dropped: 0,
    });
    const job = (lines: number, moves: number) =>
      facts({
        match: LAID,
        artwork: artwork({ outlines: rows(lines) }),
        toolpath: toolpath({ travels: travel(moves) }),
      });
    // The cut of the first stroke has 2 points of 42; artwork may have 20, and travel what that leaves of 40.
    const fine = { withinMm: 0.05 };
    expect(drawn(job(10, 10), { points: 42 }).detail).toMatchObject({
      cuts: { kept: 2 },
      artwork: { ...fine, kept: 20 },
      travels: { ...fine, kept: 20 },
    });
    expect(drawn(job(5, 15), { points: 42 }).detail).toMatchObject({ artwork: fine, travels: { ...fine, kept: 30 } });
    expect(drawn(job(11, 1), { points: 42 }).detail.artwork.withinMm).toBeGreaterThan(0.05);
    expect(drawn(job(10, 11), { points: 42 }).detail.travels.withinMm).toBeGreaterThan(0.05);
  });

  it('are enough for a dash of each, however few they are', () => {
    const travels = { count: 1, xy: Float32Array.of(0, 0, 50, 50), dropped: 0 };
    const { detail } = drawn(facts({ match: LAID, toolpath: toolpath({ travels }) }), { points: 3 });
    expect([detail.artwork.kept, detail.travels.kept]).toEqual([2, 2]);
  });
});

describe('what is proposed', () => {
  const goal: ReachGoal = { lens: '2in', speedMmPerS: 7, passes: 1, setting: 0.8, probability: 0.95, points: [] };
  const short = facts({ cuts: [cut({ remedies: [unchanged('slower', 'Slow to 7 mm/s', 0.95)] })] });
  const cured = { cure: { lens: '2in', cuts: [] }, facts: facts({ thicknessMm: 3 }) } as unknown as NonNullable<
    DrawingRequest['cured']
  >;

  it('is on the chart and in the section, where anything is', () => {
    const drawing = drawn(short, { goTo: goal });
    expect(drawing.goTo).toBe(goal);
    expect(drawing.section!.action).toBe('Slow to 7 mm/s');
    expect(drawn(short).goTo).toBeNull();
  });

  it('is nowhere where nothing is to be proposed', () => {
    const drawing = drawn(short, { goTo: goal, proposes: false });
    expect(drawing.goTo).toBeNull();
    expect(drawing.section).toMatchObject({ action: null, task: 'outline' });
    expect(drawing.section!.lenses).toHaveLength(2);
  });

  it('has the section of the cured job beside it, under its own lens alone', () => {
    const { curedSection, section } = drawn(short, { cured });
    expect(curedSection).toMatchObject({ cut: 0, thicknessMm: 3 });
    expect(curedSection!.lenses.map(({ id }) => id)).toEqual(['2in']);
    expect(section!.thicknessMm).toBe(6);
    expect(drawn(short).curedSection).toBeNull();
    expect(drawn(facts({ cuts: [] }), { cured }).curedSection).toBeNull();
  });
});

describe('test cuts on the chart', () => {
  const coupon: Coupon = {
    machine: 'shed-60w',
    lens: '2in',
    thicknessMm: 6,
    powerW: 45,
    speedMmPerS: 8,
    passes: 2,
    focusMm: 0,
    focusStepMm: 0,
    through: null,
    depthMm: 4.5,
    date: null,
  };

  it('are those of the machine and the lens, with what came of them', () => {
    const coupons = [coupon, { ...coupon, lens: '4in' }, { ...coupon, machine: 'barn-40w' }];
    const job = { material: material({ coupons }), machine: machine() };
    expect(drawn(facts(job)).coupons).toEqual([
      { thicknessMm: 6, speedMmPerS: 8, powerW: 45, passes: 2, through: null, depthMm: 4.5 },
    ]);
    expect(drawn(facts({ ...job, lens: null })).coupons).toEqual([]);
    expect(drawn(facts({ ...job, machine: null })).coupons).toEqual([]);
    expect(drawn(facts({ ...job, material: null })).coupons).toEqual([]);
  });
});
