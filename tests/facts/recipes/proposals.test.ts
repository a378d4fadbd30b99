// What is proposed for artwork whose tasks do not state all settings: together where they state the same, and what would be surer.
import { describe, expect, it } from 'vitest';
import { factsOf, shed } from '../../memory-shop.ts';

const square = (x: number, colour: string, mm = 60) =>
  `<path fill="none" stroke="${colour}" d="M${x} 20H${x + mm}V${20 + mm}H${x}Z"/>`;
interface Job {
  mm?: number;
  lens?: string;
  /** What the two tasks state besides. */
  first?: string;
  second?: string;
  shop?: (profile: string) => string;
  size?: number;
  zero?: string;
}
function proposals({ mm = 4, lens, first = '', second = '', shop = (text) => text, size, zero }: Job = {}) {
  const name = 'machines/shed-60w.machine.yaml';
  return factsOf({
    [name]: shop(String(shed()[name])),
    'signs.svg': `<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="200mm" viewBox="0 0 400 200">${square(20, '#e8590c', size)}${square(200, '#9c36b5', size)}</svg>`,
    'signs.job.yaml': `kerflint: 1
machine: shed-60w
${lens ? `lens: ${lens}\n` : ''}material: birch-plywood
thickness: ${mm} mm ± 0.2 mm
${zero ? `zero: ${zero}\n` : ''}artwork: signs.svg
tasks:
  - { name: plate, strokes: { stroke: "#e8590c" }, aim: through${first} }
  - { name: rim, strokes: { stroke: "#9c36b5" }, aim: through${second} }
`,
  }).proposals;
}

describe('through cuts without settings', () => {
  it('are answered together where their tasks state the same', () => {
    const [one, ...others] = proposals();
    expect(others).toEqual([]);
    expect(one!.cuts.map(({ task }) => task)).toEqual(['plate', 'rim']);
    expect(one).toMatchObject({ proposed: { passes: 1, setting: 0.85 }, freed: null, thinner: null, published: null });
  });

  it('are answered each by what its task states', () => {
    const [plate, rim] = proposals({ first: ', power: 60 %', second: ', passes: 2' });
    expect(plate!.cuts.map(({ task }) => task)).toEqual(['plate']);
    expect(plate!.proposed!.setting).toBe(0.6);
    expect(rim!.cuts.map(({ task }) => task)).toEqual(['rim']);
    expect(rim!.proposed).toMatchObject({ passes: 2, setting: 0.85 });
  });

  it('are not asked about where nothing parts them, or all is planned', () => {
    const all = ', power: 60 %, speed: 6 mm/s, passes: 1, focus: 0 mm';
    expect(proposals({ first: all, second: all })).toEqual([]);
    expect(proposals({ first: ', power: 0 %', second: all })).toEqual([]);
  });

  it('are no faster than their outlines let the head become', () => {
    const speed = (size: number) => proposals({ mm: 0.8, size })[0]!.proposed!.speedMmPerS;
    // From rest to rest at 3 m/s² over 4 mm no more than 110 mm/s are reached, √(a s).
    expect(speed(4)).toBeLessThan(110);
    expect(speed(60)).toBeGreaterThan(speed(1));
  });

  it('count on the watts of the corner where the least arrives, where their place is known', () => {
    const shop = (text: string) => text.replace('at-corners: 0.95', 'at-corners: 0.5');
    const [known, open] = ['sheet-corner', ''].map((zero) => proposals({ shop, zero })[0]!.surest.powerW);
    // Half is lost over the diagonal of 600 × 400 mm; the artwork's far corner lies at 260, 80.
    const share = 1 - (0.5 * Math.hypot(260, 80)) / Math.hypot(600, 400);
    expect(known).toBeCloseTo(54 * 0.85 * share, 1);
    // Else that of the middle of the bed.
    expect(open).toBeCloseTo(54 * 0.85 * 0.75, 3);
  });
});

describe('a lens', () => {
  it('may be any of the machine’s where none is named', () => {
    const [open] = proposals({ mm: 21 });
    expect(open!.proposed!.lens).toBe('4in');
    const [named] = proposals({ mm: 21, lens: '1.5in' });
    expect(named).toMatchObject({ proposed: null, surest: { lens: '1.5in' }, limit: 0.9 });
    expect(named!.limitedBy.map(({ kind }) => kind)).toContain('named-lens');
    // What would be surer: another lens.
    expect(named!.freed!.lens).toBe('4in');
    expect(named!.freed!.throughProbability).toBeGreaterThanOrEqual(0.9);
  });
});

describe('what would be surer if the plan were left open', () => {
  it('is told where a recipe within the plan is not sure, and is free of all that was planned', () => {
    const stated = ', power: 20 %, passes: 1';
    const [one] = proposals({ mm: 6, first: stated, second: stated });
    expect(one!.proposed).toBeNull();
    expect(one!.freed!.setting).toBe(0.85);
    expect(one!.freed!.throughProbability).toBeGreaterThanOrEqual(0.9);
    expect(one!.thinner).not.toBeNull();
    expect(one!.published).not.toBeNull();
  });

  it('is nothing where nothing was planned that could be freed, or nothing would be won', () => {
    expect(proposals({ mm: 60 })[0]).toMatchObject({ proposed: null, freed: null });
    const most = ', power: 85 %, passes: 3';
    expect(proposals({ mm: 60, first: most, second: most })[0]!.freed).toBeNull();
  });
});
