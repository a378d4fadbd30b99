import { colord, extend } from 'colord';
import a11y from 'colord/plugins/a11y';
import lab from 'colord/plugins/lab';
import { describe, expect, it } from 'vitest';
import type { DrawnCut } from '../../src/facts/drawing/drawing-model.ts';
import { leastSureFirst, MARGIN_CLASSES, marginClass } from '../../src/report/pictures/margin-scale.ts';
import { DARK_INKS, LIGHT_INKS, PICTURE_CSS, standaloneCss } from '../../src/report/pictures/picture-style.ts';

extend([a11y, lab]);

const CLASSES = ['m0', 'm1', 'm2', 'm3', 'm4'] as const;

/** Linear RGB under full protanopia, deuteranopia and tritanopia: Machado, Oliveira & Fernandes, IEEE TVCG 15(6), 2009, table 1. */
const DEFICIENCIES = {
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritanopia: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

function seenAs(hex: string, matrix: number[][]): string {
  const { r, g, b } = colord(hex).toRgb();
  const linear = [r, g, b].map((v) => (v / 255 <= 0.04045 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4));
  const [red = 0, green = 0, blue = 0] = matrix.map((row) => {
    const v = Math.min(
      1,
      Math.max(
        0,
        row.reduce((sum, factor, i) => sum + factor * linear[i]!, 0),
      ),
    );
    return 255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055);
  });
  return colord({ r: red, g: green, b: blue }).toHex();
}

describe('the margin scale', () => {
  it.each([
    ['light', LIGHT_INKS],
    ['dark', DARK_INKS],
  ])('steps evenly in lightness on %s paper, the least sure farthest from it', (_, inks) => {
    const lightness = CLASSES.map((name) => colord(inks[name]).toLab().l);
    const steps = lightness.slice(1).map((l, i) => Math.abs(l - lightness[i]!));
    for (const step of steps) {
      expect(step).toBeGreaterThan(7);
      expect(step).toBeLessThan(15);
    }
    const paper = colord(inks.paper).toLab().l;
    const away = lightness.map((l) => Math.abs(l - paper));
    expect(away).toEqual([...away].sort((a, b) => b - a));
  });

  it.each(Object.entries(DEFICIENCIES))('keeps its order in lightness under %s', (_, matrix) => {
    for (const inks of [LIGHT_INKS, DARK_INKS]) {
      const lightness = CLASSES.map((name) => colord(seenAs(inks[name], matrix)).toLab().l);
      const rising = inks === LIGHT_INKS ? lightness : [...lightness].reverse();
      for (let i = 1; i < rising.length; i++) expect(rising[i]! - rising[i - 1]!).toBeGreaterThan(4);
    }
  });

  it('stands out from sheet and paper by 3 : 1, and words by 4.5 : 1 (WCAG 2.2, 1.4.11 and 1.4.3)', () => {
    for (const inks of [LIGHT_INKS, DARK_INKS]) {
      for (const ground of [inks.paper, inks.sheet]) {
        for (const name of CLASSES) expect(colord(inks[name]).contrast(ground)).toBeGreaterThanOrEqual(3);
        for (const name of ['ink', 'soft'] as const)
          expect(colord(inks[name]).contrast(ground)).toBeGreaterThanOrEqual(4.5);
      }
    }
  });

  it('says the same a second time by width: the less sure, the wider', () => {
    const widths = CLASSES.map((name) =>
      Number(new RegExp(`\\.${name}\\{[^}]*stroke-width:([\\d.]+)px`).exec(PICTURE_CSS)![1]),
    );
    expect(widths).toEqual([...widths].sort((a, b) => b - a));
    expect(new Set(widths).size).toBe(5);
  });

  it('tells chances in five classes, and no verdict: that hangs on what a prediction rests on', () => {
    const at = (probability: number | null) => marginClass({ aim: 'through', probability }).css;
    expect([0, 0.099, 0.1, 0.499, 0.5, 0.899, 0.9, 0.989, 0.99, 1].map(at)).toEqual([
      'm0',
      'm0',
      'm1',
      'm1',
      'm2',
      'm2',
      'm3',
      'm3',
      'm4',
      'm4',
    ]);
    for (const { words } of MARGIN_CLASSES) expect(words).not.toMatch(/falls short|marginal/);
    expect(at(null)).toBe('m-none');
    expect(marginClass({ aim: 'groove', probability: 0 }).css).toBe('m-groove');
    expect(MARGIN_CLASSES.map(({ css }) => css)).toEqual([...CLASSES]);
  });

  it('has every colour written in where a picture stands alone', () => {
    expect(standaloneCss()).not.toContain('var(');
  });
});

describe('cuts in the order of their risk', () => {
  const cut = (number: number, aim: DrawnCut['aim'], probability: number | null): DrawnCut => ({
    cut: number,
    task: 'outline',
    aim,
    recipe: '1 pass',
    speedMmPerS: 10,
    depthMm: null,
    depthLowMm: null,
    depthHighMm: null,
    probability,
    file: 'a.gcode',
    line: 1,
    lines: [],
  });

  it('begin with the least sure, whatever the odds of a groove, and end with what was not predicted or is not to part', () => {
    const cuts = [cut(0, 'groove', 0), cut(1, 'through', null), cut(2, 'through', 0.9), cut(3, 'through', 0.2)];
    expect(leastSureFirst(cuts).map((one) => one.cut)).toEqual([3, 2, 1, 0]);
  });
});
