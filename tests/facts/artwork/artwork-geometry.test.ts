import { describe, expect, it } from 'vitest';
import { type Files, factsOf, shed } from '../../memory-shop.ts';

const svg = (inside: string, size = 'width="200mm" height="100mm" viewBox="0 0 200 100"') =>
  `<svg xmlns="http://www.w3.org/2000/svg" ${size}>\n<g stroke="#1864ab" fill="none">\n${inside}\n</g></svg>`;

const files = (artwork: string, sidecar = ''): Files => ({
  ...shed(),
  'part.job.yaml': `kerflint: 1
machine: shed-60w
lens: 2in
material: birch-plywood
thickness: 3 mm ± 0.1 mm
zero: sheet-corner
artwork: part.svg
${sidecar}tasks:
  - { name: parts, aim: through, strokes: { stroke: "#1864ab" }, power: 80 %, speed: 9 mm/s, air: 1 bar }
`,
  'part.svg': artwork,
});

const geometry = (inside: string, sidecar?: string) => factsOf(files(svg(inside), sidecar)).geometry!;

describe('geometry of the artwork', () => {
  it('a closed part alone has nothing against it', () => {
    const found = geometry('<rect x="10" y="10" width="60" height="40"/>');
    for (const list of [
      found.open,
      found.nearlyClosed,
      found.duplicates.items,
      found.selfCrossing.items,
      found.overlappingParts.items,
      found.narrow,
      found.strays,
      found.offSheet,
      found.webs.items,
    ]) {
      expect(list).toEqual([]);
    }
    expect(found.scaleSuspect).toBeNull();
  });

  it('an open line is open, unless lines join to a closed contour', () => {
    expect(geometry('<path d="M10 10 H60 V40"/>').open).toHaveLength(1);
    const four = '<path d="M10 10 H60"/><path d="M60 10 V40"/><path d="M10 40 H60"/><path d="M10 10 V40"/>';
    expect(geometry(four).open).toEqual([]);
  });

  it('a gap of less than a millimetre is nearly closed', () => {
    const found = geometry('<path d="M10 10 H60 V40 H10 V10.4"/>');
    expect(found.open).toEqual([]);
    expect(found.nearlyClosed.map((one) => one.gapMm)).toEqual([expect.closeTo(0.4, 6)]);
  });

  it('a line drawn twice is a double burn, with both places', () => {
    const found = geometry('<rect x="10" y="10" width="60" height="40"/>\n<path d="M70 50 H10 V10 H70 Z"/>').duplicates
      .items;
    expect(found).toHaveLength(1);
    expect(found[0]!.lengthMm).toBeCloseTo(200, 3);
    expect([found[0]!.other.line, found[0]!.location.line]).toEqual([3, 4]);
  });

  it('parts that share one edge are a double burn on that edge only', () => {
    const found = geometry('<rect x="10" y="10" width="30" height="40"/><rect x="40" y="10" width="30" height="40"/>');
    expect(found.duplicates.items.map((one) => one.lengthMm)).toEqual([expect.closeTo(40, 3)]);
    expect(found.overlappingParts.items).toEqual([]);
  });

  it('an outline that crosses itself, and parts that overlap', () => {
    expect(geometry('<path d="M10 10 L60 50 L60 10 L10 50 Z"/>').selfCrossing.items).toHaveLength(1);
    const two = '<rect x="10" y="10" width="30" height="40"/><rect x="30" y="20" width="30" height="40"/>';
    expect(geometry(two).overlappingParts.items).toHaveLength(1);
  });

  describe('a loop that an outline makes at a corner', () => {
    // A part of 40 by 30 mm whose first corner is overshot by a loop of so much by so much.
    const corner = (x: number, y: number) => `<path d="M10 10 h40 v30 h-40 V${10 - y} h${-x} v${y} Z"/>`;

    it('is no crossing while the kerf swallows it: narrower than it everywhere, and under its square in area', () => {
      const kerf = geometry(corner(0.1, 0.1)).kerfMm!;
      expect(kerf).toBeGreaterThan(0.1);
      const near = (x: number, y: number) => geometry(corner(x * kerf, y * kerf)).selfCrossing.items.length;
      expect([near(0.99, 0.99), near(0.5, 1.9), near(1.9, 0.5)]).toEqual([0, 0, 0]);
      expect([near(1.01, 1.01), near(0.5, 2.1), near(2.1, 0.5)]).toEqual([1, 1, 1]);
    });

    it('is held against the finest of kerfs where none is known', () => {
      const bare = (mm: number) => factsOf({ 'part.svg': svg(corner(mm, mm)) }, { thickness: '3 mm' }).geometry!;
      expect(bare(0.09).kerfMm).toBeNull();
      expect([0.09, 0.11].map((mm) => bare(mm).selfCrossing.items.length)).toEqual([0, 1]);
    });
  });

  it('the web between two parts is their distance', () => {
    const found = geometry(
      '<rect x="10" y="10" width="30" height="40"/><rect x="40.6" y="10" width="30" height="40"/>',
    );
    expect(found.webs.items[0]!.widthMm).toBeCloseTo(0.6, 3);
  });

  it('the inside of a slot is no web, the material beside it is', () => {
    const part = '<rect x="10" y="10" width="60" height="40"/>';
    expect(geometry(`${part}<rect x="30" y="20" width="1" height="20"/>`).webs.items).toEqual([]);
    expect(geometry(`${part}<rect x="30" y="20" width="1" height="29.2"/>`).webs.items[0]!.widthMm).toBeCloseTo(0.8, 3);
  });

  it('the gap where an outline misses closing is no web, the bridge between two slits is', () => {
    expect(geometry('<path d="M10 10 H60 V40 H10 V10.4"/>').webs.items).toEqual([]);
    expect(geometry('<path d="M10 10 H40"/><path d="M40.4 10 H70"/>').webs.items[0]!.widthMm).toBeCloseTo(0.4, 6);
  });

  it('lines whose ends are one point leave no web there', () => {
    expect(geometry('<path d="M10 10 H40"/><path d="M40.04 10 V40"/>').webs.items).toEqual([]);
  });

  it('a hole that the kerf eats up is narrow', () => {
    const found = geometry('<rect x="10" y="10" width="60" height="40"/><circle cx="30" cy="30" r="0.2"/>');
    expect(found.narrow).toMatchObject([{ kind: 'hole' }]);
    // Flattened to 0.01 mm: each side may lie in by so much.
    expect(Math.abs(found.narrow[0]!.widthMm - 0.4)).toBeLessThanOrEqual(0.02);
  });

  it('a thin part, and a thin line in a part that does not close, are no narrow hole', () => {
    const strip = '<rect x="10" y="10" width="60" height="0.4"/>';
    const line = '<rect x="10" y="20" width="60" height="40"/><path d="M20 30 H40 V30.3 H21"/>';
    expect(geometry(strip + line).narrow).toEqual([]);
    expect(geometry(`${strip}${line}<rect x="20" y="50" width="20" height="0.4"/>`).narrow).toHaveLength(1);
  });

  it('slots are counted by the width they are drawn with', () => {
    const comb = '<path d="M10 50 V10 H20 V30 H23 V10 H40 V30 H43 V10 H60 V30 H63 V10 H80 V50 Z"/>';
    const joints = geometry(comb).joints.filter((one) => one.kind === 'slot');
    expect(joints).toMatchObject([{ sizeMm: expect.closeTo(3, 6), count: 3 }]);
  });

  it('tabs are counted by how far they stand out', () => {
    const side = '<path d="M20 20 H50 V17 H65 V20 H95 V17 H110 V20 H140 V60 H20 Z"/>';
    const joints = geometry(side).joints.filter((one) => one.kind === 'tab');
    expect(joints).toMatchObject([{ sizeMm: expect.closeTo(3, 6), count: 2 }]);
  });

  it('what reaches over the sheet is off it by so much', () => {
    const sheet = 'sheet: { width: 100 mm, height: 60 mm }\n';
    const found = geometry('<rect x="10" y="10" width="95" height="40"/>', sheet).offSheet;
    expect(found.map((one) => one.byMm)).toEqual([expect.closeTo(5, 6)]);
  });

  it('set by hand only the extent counts, from the left and the top of what is drawn', () => {
    const labels = '<rect x="20" y="20" width="30" height="20"/>\n<rect x="140" y="20" width="40" height="20"/>';
    const off = (widthMm: number) => {
      const all = files(svg(labels), `sheet: { width: ${widthMm} mm, height: 80 mm }\n`);
      const byHand = String(all['part.job.yaml']).replace('zero: sheet-corner', 'zero: set-by-hand');
      return factsOf({ ...all, 'part.job.yaml': byHand }).geometry!.offSheet;
    };
    expect(off(160)).toEqual([]);
    expect(off(150).map(({ outline, byMm }) => [outline, byMm])).toEqual([[1, expect.closeTo(10, 6)]]);
  });

  it('strays are counted', () => {
    const found = geometry(
      '<rect x="10" y="10" width="60" height="40"/><path d="M90 90 h0.1"/><path d="M95 90 h0.1"/>',
    );
    expect(found.strays).toHaveLength(2);
  });
});

describe('a scale that slipped', () => {
  // A plate meant to be 121 × 62 mm, written in px at 72 to the inch and without a physical size.
  const px = (mm: number) => ((mm / 25.4) * 72).toFixed(4);
  const plate = `<rect x="0" y="0" width="${px(121)}" height="${px(62)}"/>`;

  it('is told from whole millimetres', () => {
    const found = factsOf(files(svg(plate, 'viewBox="0 0 600 300" width="600" height="300"'))).geometry!.scaleSuspect;
    expect(found!.factor).toBeCloseTo(96 / 72, 6);
    expect(found!.evidence).toContain('121 × 62');
  });

  it('is not suspected of a drawing with a physical size', () => {
    expect(factsOf(files(svg(plate))).geometry!.scaleSuspect).toBeNull();
  });
});
