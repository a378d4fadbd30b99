// Files that are small and ask much of geometry: what drawing programs, cutters' habits and a fuzzer come up with.

/** One file and how it is checked. */
export interface HardFile {
  readonly name: string;
  readonly extension: 'svg' | 'gcode';
  readonly thicknessMm: number;
  /** CPU seconds that a check took on 2026-11-28, start of the process included; null where nobody measured. */
  readonly beforeS: number | null;
  text(): string;
}

/** A stream of pseudo-random numbers, 0 ≤ x < 1, the same on every run. */
export function numbers(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

const times = (count: number, line: (k: number) => string): string =>
  Array.from({ length: count }, (_, k) => line(k)).join('\n');
const drawing = (inner: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="200mm" viewBox="0 0 300 200" fill="none" stroke="#000" stroke-width="0.1">\n${inner}\n</svg>\n`;
const program = (inner: string): string => `G21 G90\nM3 S0\nF600\n${inner}\nM5\nM2\n`;
const mm = (v: number): string => v.toFixed(3);

const circles = (count: number): string => drawing(times(count, () => '<circle cx="100" cy="100" r="40"/>'));

/** The hub of a weather vane, drawn over itself. */
const onePath = (count: number): string =>
  drawing(times(count, () => '<path d="M20 60C40 10 90 10 110 60S180 110 200 60V150H20Z M60 90H160V120H60Z"/>'));

function nearlyConcentric(count: number): string {
  const next = numbers(7);
  return drawing(
    times(
      count,
      (k) => `<circle cx="${mm(100 + next() * 0.2)}" cy="${mm(100 + next() * 0.2)}" r="${mm(10 + k * 0.06)}"/>`,
    ),
  );
}

/** A triangle run round at another setting each time, never quite on the same line: thousands of stretches, each with its own passes. */
function manySettings(): string {
  const next = numbers(5);
  const corners = [
    [83, 89],
    [18, 51],
    [80, 16],
  ] as const;
  const off = () => (next() - 0.5) * 0.4;
  return program(
    times(1_600, (k) => {
      const [x, y] = corners[k % 3]!;
      return `G1 X${mm(x + off())} Y${mm(y + off())} S${50 * (1 + Math.floor(20 * next()))}`;
    }),
  );
}

/** A coast by midpoint displacement, 2,500 points on about 30 mm: bays of bays, no two sides alike. */
function coast(): string {
  const next = numbers(11);
  let ring: [number, number][] = [
    [5, 15],
    [12, 4],
    [27, 5],
    [34, 16],
    [25, 26],
    [10, 25],
  ];
  const finer = (points: readonly [number, number][]) =>
    points.flatMap(([x, y], k): [number, number][] => {
      const [toX, toY] = points[(k + 1) % points.length]!;
      const off = (next() - 0.5) * 1.1;
      return [
        [x, y],
        [(x + toX) / 2 - off * (toY - y), (y + toY) / 2 + off * (toX - x)],
      ];
    });
  while (ring.length < 1250) ring = finer(ring);
  const last = finer(ring.slice(0, 964));
  return drawing(`<path d="M${[...last, ...ring.slice(964)].map(([x, y]) => `${mm(x)},${mm(y)}`).join(' ')}Z"/>`);
}

/** Groups of ten `use` elements of groups of ten …, at one place or side by side. */
function nestedUse(levels: number, stepMm: number): string {
  const level = (k: number): string =>
    `<g id="g${k}">${times(10, (n) => `<use href="#g${k - 1}" x="${mm(n * stepMm * (k % 2 === 0 ? 1 : 3))}" y="${mm(k * stepMm)}" class="row of plant labels in the seed tray number ${n} of level ${k}, as the drawing program wrote it"/>`)}</g>`;
  const levelsText = times(levels, (k) => level(k + 1));
  return drawing(`<defs><path id="g0" d="M10 10h2v1h-2z"/>\n${levelsText}</defs>\n<use href="#g${levels}"/>`);
}

const passes = (count: number): string =>
  program(
    times(count, (k) => `G1 X${k % 2 === 0 ? 110 : 10} Y10${k === 0 ? ' S800' : ''}`).replace(/^/, 'G0 X10 Y10\n'),
  );

function chordsRunOver(chords: number, again: number): string {
  const ring = times(chords, (k) => {
    const angle = (2 * Math.PI * k) / chords;
    const radius = 100 + 6 * Math.sin(40 * angle);
    return `G1 X${mm(150 + radius * Math.cos(angle))} Y${mm(150 + radius * Math.sin(angle))}${k === 0 ? ' S800' : ''}`;
  });
  return program(times(again, () => ring));
}

function densePaths(count: number): string {
  const next = numbers(13);
  const at = (span: number): string => mm(10 + next() * span);
  return drawing(
    times(count, () => {
      const [x, y] = [at(60), at(60)];
      return `<path d="M${x} ${y}l${mm(next() * 20)} ${mm(next() * 20)} ${mm(-next() * 20)} ${mm(next() * 9)}z"/>`;
    }),
  );
}

/** The rows of the table of hard files in docs/benchmarks.md. */
export const HARD_FILES: readonly HardFile[] = [
  { name: '100 identical circles', extension: 'svg', thicknessMm: 3, beforeS: 4.3, text: () => circles(100) },
  { name: '400 identical circles', extension: 'svg', thicknessMm: 3, beforeS: 14.9, text: () => circles(400) },
  { name: '1,600 identical circles', extension: 'svg', thicknessMm: 3, beforeS: 26.4, text: () => circles(1600) },
  { name: 'one path drawn 300 times', extension: 'svg', thicknessMm: 3, beforeS: 16.4, text: () => onePath(300) },
  {
    name: '1,200 near-concentric circles',
    extension: 'svg',
    thicknessMm: 3,
    beforeS: 11.2,
    text: () => nearlyConcentric(1200),
  },
  { name: 'three lines at 20 settings', extension: 'gcode', thicknessMm: 3, beforeS: null, text: manySettings },
  { name: '600 passes over one line', extension: 'gcode', thicknessMm: 3, beforeS: 2.7, text: () => passes(600) },
  { name: 'jagged coast, 2,500 points, 1 mm', extension: 'svg', thicknessMm: 1, beforeS: 0.75, text: coast },
  { name: 'jagged coast, 2,500 points, 3 mm', extension: 'svg', thicknessMm: 3, beforeS: 9.5, text: coast },
  { name: 'jagged coast, 2,500 points, 6 mm', extension: 'svg', thicknessMm: 6, beforeS: 57, text: coast },
  { name: 'nested use, all at one place', extension: 'svg', thicknessMm: 3, beforeS: 68, text: () => nestedUse(5, 0) },
  { name: 'nested use, side by side', extension: 'svg', thicknessMm: 3, beforeS: null, text: () => nestedUse(5, 0.7) },
  {
    name: '10,000 dense overlapping paths',
    extension: 'svg',
    thicknessMm: 3,
    beforeS: 16,
    text: () => densePaths(10_000),
  },
  {
    name: '20,000 chords run over 50 times',
    extension: 'gcode',
    thicknessMm: 3,
    beforeS: null,
    text: () => chordsRunOver(20_000, 50),
  },
];
