import fc from 'fast-check';
import type { Files } from '../memory-shop.ts';

/** One recipe of a random program, with the shapes that it cuts. */
export interface Recipe {
  setting: number;
  speedMmPerS: number;
  passes: number;
  focusMm: number;
  shapes: Shape[];
}

type Shape = { kind: 'square' | 'circle' | 'line'; xMm: number; yMm: number; sizeMm: number };

const shape: fc.Arbitrary<Omit<Shape, 'xMm' | 'yMm'>> = fc.record({
  kind: fc.constantFrom('square', 'circle', 'line'),
  sizeMm: fc.integer({ min: 2, max: 18 }),
});

const recipe = fc.record({
  setting: fc.integer({ min: 15, max: 85 }).map((percent) => percent / 100),
  speedMmPerS: fc.integer({ min: 3, max: 60 }),
  passes: fc.integer({ min: 1, max: 3 }),
  focusMm: fc.integer({ min: -20, max: 5 }).map((tenths) => tenths / 10),
  shapes: fc.array(shape, { minLength: 1, maxLength: 5 }),
});

/** Recipes whose shapes lie apart: one row for each. Their settings differ, so that none is taken together with another. */
export const recipes: fc.Arbitrary<Recipe[]> = fc
  .uniqueArray(recipe, { minLength: 1, maxLength: 3, selector: ({ setting }) => setting })
  .map((all) =>
    all.map((one, row) => ({
      ...one,
      shapes: one.shapes.map((each, i) => ({ ...each, xMm: 10 + i * 25, yMm: 10 + row * 25 })),
    })),
  );

/** The job that runs these recipes: each path as often in a row as it has passes, back to its start by the straight way. */
export function jobOf(all: readonly Recipe[], sheet: { material: string; thicknessMm: number; lens: string }): Files {
  const lines = ['G21', 'G90', 'M3 S0'];
  all.forEach(({ setting, speedMmPerS, passes, shapes }, i) => {
    lines.push(`; recipe ${i + 1}`);
    for (const one of shapes) {
      lines.push(`G0 X${one.xMm} Y${one.yMm}`);
      for (let pass = 0; pass < passes; pass++) lines.push(...pathOf(one, setting, speedMmPerS, pass > 0));
    }
  });
  const tasks = all.flatMap(({ setting, speedMmPerS, passes, focusMm }, i) => [
    `  - name: recipe ${i + 1}`,
    '    aim: through',
    `    program: { comment: recipe ${i + 1} }`,
    `    power: ${Math.round(setting * 100)} %`,
    `    speed: ${speedMmPerS} mm/s`,
    `    passes: ${passes}`,
    `    focus: ${focusMm} mm`,
  ]);
  return {
    'job.gcode': `${[...lines, 'M5', 'M2'].join('\n')}\n`,
    'job.job.yaml': [
      'kerflint: 1',
      'machine: shed-60w',
      `lens: ${sheet.lens}`,
      `material: ${sheet.material}`,
      `thickness: ${sheet.thicknessMm} mm ± 0.2 mm`,
      'face: bare',
      'sheet: { width: 300 mm, height: 200 mm, price: 14.50 EUR }',
      'zero: sheet-corner',
      'toolpath: job.gcode',
      'tasks:',
      ...tasks,
      '',
    ].join('\n'),
  };
}

function pathOf(
  { kind, xMm: x, yMm: y, sizeMm: size }: Shape,
  setting: number,
  speedMmPerS: number,
  again: boolean,
): string[] {
  const words = `F${speedMmPerS * 60} S${Math.round(setting * 1000)}`;
  if (kind === 'square') {
    return [`G1 X${x + size} Y${y} ${words}`, `G1 Y${y + size}`, `G1 X${x}`, `G1 Y${y}`];
  }
  if (kind === 'circle') return [`G2 X${x} Y${y} I${size / 2} J0 ${words}`];
  const back = again ? [`G0 X${x} Y${y}`] : [];
  return [...back, `G1 X${x + size} Y${y + 1} ${words}`, `G1 X${x + size} Y${y + 3}`];
}
