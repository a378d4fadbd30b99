import { Resvg } from '@resvg/resvg-js';
import { SaxesParser } from 'saxes';
import { describe, expect, it } from 'vitest';
import type { ReachModel } from '../../src/facts/bench/reach-model.ts';
import type { Recipe } from '../../src/facts/recipes/recipe-fact.ts';
import { reachPicture } from '../../src/report/pictures/reach-wall-chart.ts';
import { citedCut } from '../cited-cuts.ts';

const depth = (speedMmPerS: number, depthMm: number) => ({
  speedMmPerS,
  depthMm,
  lowMm: depthMm * 0.7,
  highMm: depthMm * 1.4,
  sureMm: depthMm * 0.75,
});

function lens(id: string, reach: number) {
  const speeds = [2, 4, 8, 16, 32, 64];
  return {
    id,
    spotMm: 0.14,
    depthOfFocusMm: 2.3,
    points: speeds.map((speed) => depth(speed, reach / speed ** 0.8)),
    greatest: depth(4, reach / 4 ** 0.8),
  };
}

function choice(
  thicknessMm: number,
  standing: ReachModel['choices'][number]['standing'],
  lensId: string,
  speedMmPerS: number,
  more: Partial<Recipe> = {},
): ReachModel['choices'][number] {
  const recipe: Recipe = {
    lens: lensId,
    setting: 0.85,
    powerW: 45,
    speedMmPerS,
    passes: 1,
    focusMm: 0,
    focusStepMm: 0,
    throughProbability: { sure: 0.91, prove: 0.5, 'out-of-reach': 0.02 }[standing],
    ...more,
  };
  return { thicknessMm, standing, recipe, byLens: [] };
}

const MODEL: ReachModel = {
  machine: 'shed-60w',
  source: 'CO₂, 45 W at the work',
  material: 'birch plywood',
  basis: 'catalogue, ± 58 %',
  hazard: { class: 'usual', reason: 'wood smoke and tar' },
  onlyIf: null,
  setting: 0.85,
  powerW: 45,
  passes: 1,
  focusMm: null,
  limit: 0.9,
  errorLimit: 0.14,
  floorMmPerS: 4,
  lenses: [lens('2in', 24), lens('4in', 20)],
  choices: [
    choice(2, 'sure', '2in', 20),
    choice(4, 'sure', '4in', 9, { focusMm: -1 }),
    choice(6, 'prove', '4in', 4.5, { passes: 2, focusMm: -2, focusStepMm: -1.5 }),
    choice(8, 'out-of-reach', '4in', 4),
    choice(12, 'out-of-reach', '4in', 4),
  ],
  published: [],
  publishedElse: 0,
};

function textsOf(svg: string): string[] {
  const texts: string[] = [];
  let open: string | null = null;
  const parser = new SaxesParser();
  parser.on('opentag', (tag) => {
    if (tag.name === 'text') open = '';
  });
  parser.on('text', (text) => {
    if (open !== null) open += text;
  });
  parser.on('closetag', (tag) => {
    if (tag.name === 'text' && open !== null) texts.push(open);
    if (tag.name === 'text') open = null;
  });
  parser.on('error', (error) => {
    throw error;
  });
  parser.write(svg).close();
  return texts;
}

describe('the reach picture', () => {
  it('answers which lens for which sheet in words that are text', () => {
    const texts = textsOf(reachPicture(MODEL));
    expect(texts).toContain('birch plywood on shed-60w');
    const row = texts.indexOf('4 mm');
    expect(texts.slice(row, row + 4)).toEqual(['4 mm', '4in', '-1', '1 × 9 mm/s']);
    const proved = texts.indexOf('6 mm');
    expect(texts.slice(proved, proved + 4)).toEqual(['6 mm', '4in', '-2, -1.5', '2 × 4.5 mm/s ?']);
  });

  it('draws what parts with 90 % bold and the median thin', () => {
    const widths = [...reachPicture(MODEL).matchAll(/<path [^>]*fill="none"[^>]*stroke-width="([\d.]+)"/g)].map(
      ([, w]) => Number(w),
    );
    expect(widths).toEqual([0.25, 0.9, 0.25, 0.9]);
  });

  it('has a dot for each sheet of the table in the panel of its lens, a ring for one to be proved', () => {
    const dots = [...reachPicture(MODEL).matchAll(/<circle [^>]*fill="(#\w+)"/g)].map(([, fill]) => fill);
    expect(dots).toEqual(['#111111', '#111111', '#ffffff']);
    expect(textsOf(reachPicture(MODEL))).toContain('2×');
  });

  it('marks published cuts, full where they parted and empty where they did not, and only those on the chart', () => {
    const dot = (speedMmPerS: number, outcome: 'cut' | 'not' | 'limit', thicknessMm = 4) => ({
      speedMmPerS,
      cut: citedCut({ outcome, thicknessMm }),
    });
    const diamonds = (published: ReachModel['published']) =>
      [...reachPicture({ ...MODEL, published }).matchAll(/<path [^>]*transform="translate\([^>]*fill="(#\w+)"/g)].map(
        ([, fill]) => fill,
      );
    // One for each of the two lenses.
    expect(diamonds([dot(10, 'cut')])).toEqual(['#111111', '#111111']);
    expect(diamonds([dot(10, 'limit')])).toEqual(['#111111', '#111111']);
    expect(diamonds([dot(10, 'not')])).toEqual(['#ffffff', '#ffffff']);
    expect(diamonds([dot(1, 'cut'), dot(1000, 'cut'), dot(10, 'cut', 90)])).toEqual([]);
    const said = textsOf(reachPicture({ ...MODEL, published: [dot(10, 'cut')] }));
    expect(said).toContain(
      'Diamonds: cuts that others published (kerflint evidence), in 1 pass, speed scaled to 45 W. Full: parted. Empty: did not.',
    );
    expect(textsOf(reachPicture(MODEL)).join(' ')).not.toContain('Diamonds');
  });

  it('keeps the lines at its foot below the panels, however many they are', () => {
    const published = [{ speedMmPerS: 10, cut: citedCut() }];
    for (const model of [
      MODEL,
      { ...MODEL, published },
      { ...MODEL, published, hazard: { class: 'never' as const, reason: 'melts and drips '.repeat(20).trim() } },
    ]) {
      const svg = reachPicture(model);
      const yOf = (start: string) => Number(new RegExp(`y="([\\d.]+)"[^>]*>${start}`).exec(svg)![1]);
      expect(yOf('Bold line') - yOf('speed, mm/s')).toBeGreaterThan(3);
    }
  });

  it('puts all sheets beyond reach in one row, and says what to do about them', () => {
    const texts = textsOf(reachPicture(MODEL));
    expect(texts).toContain('8 mm +');
    expect(texts).not.toContain('12 mm +');
    expect(texts.some((text) => /thinner sheet/.test(text))).toBe(true);
  });

  it('carries the caution of a material that a person should reconsider', () => {
    const hazard = { class: 'reconsider' as const, reason: 'melts and catches fire' };
    expect(textsOf(reachPicture({ ...MODEL, hazard }))).toContain('Reconsider this material: melts and catches fire.');
    expect(reachPicture(MODEL)).not.toMatch('Reconsider');
  });

  it('tells a reader who hears it the same', () => {
    expect(reachPicture(MODEL)).toMatch(
      /<desc id="desc">2 mm: 2in lens, 1 pass at 20 mm\/s, focus on the face; 4 mm: 4in lens, 1 pass at 9 mm\/s, focus 1.0 mm below the face; 6 mm: .*, to be proved; 8 mm: out of reach/,
    );
  });

  it('is drawn in greys only, so that a grey printer loses nothing', () => {
    for (const [, red, green, blue] of reachPicture(MODEL).matchAll(/#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})/g)) {
      expect(red).toBe(green);
      expect(green).toBe(blue);
    }
  });

  it('never holds a coordinate that is no number, whatever the lenses reach', () => {
    const flat = { ...lens('weak', 0), points: [depth(2, 0)] };
    for (const odd of [
      { ...MODEL, lenses: [flat] },
      { ...MODEL, floorMmPerS: null },
      { ...MODEL, choices: MODEL.choices.slice(0, 1) },
    ]) {
      expect(reachPicture(odd)).not.toMatch(/NaN|Infinity|undefined/);
    }
  });

  it('escapes what a profile calls itself', () => {
    expect(textsOf(reachPicture({ ...MODEL, material: '<script>&"' }))[0]).toBe('<script>&" on shed-60w');
  });

  it('renders in another program (resvg) with ink on a white page', () => {
    const image = new Resvg(reachPicture(MODEL), { fitTo: { mode: 'width', value: 594 } }).render();
    expect([image.width, image.height]).toEqual([594, 420]);
    const { pixels } = image;
    expect([...pixels.subarray(0, 4)]).toEqual([255, 255, 255, 255]);
    let dark = 0;
    for (let i = 0; i < pixels.length; i += 4) if (pixels[i]! < 100) dark++;
    expect(dark).toBeGreaterThan(1000);
  });
});
