// Files that are small and ask much of geometry, one for each seed: what is drawn over, beside and through itself.
import { numbersFrom } from '../geometry/drawings.ts';

type Next = () => number;

/** So many, mostly few: up to `most` in equal shares of each power of ten. */
const some = (next: Next, most: number): number => Math.max(1, Math.floor(most ** next()));
const rows = (count: number, row: (k: number) => string): string =>
  Array.from({ length: count }, (_, k) => row(k)).join('\n');
const n = (value: number): string => String(Number(value.toPrecision(9)));

/** An outline of a few corners or curves within about 100 mm. */
function shape(next: Next): string {
  const at = () => `${n(100 * next())} ${n(100 * next())}`;
  const kind = next();
  if (kind < 0.3) return `<circle cx="${n(100 * next())}" cy="${n(100 * next())}" r="${n(50 * next())}"/>`;
  if (kind < 0.5)
    return `<rect x="${n(60 * next())}" y="${n(60 * next())}" width="${n(40 * next())}" height="${n(40 * next())}"/>`;
  if (kind < 0.8)
    return `<path d="M${at()}L${rows(some(next, 40), at).replaceAll('\n', ' ')}${next() < 0.6 ? 'z' : ''}"/>`;
  return `<path d="M${at()}C${at()} ${at()} ${at()}S${at()} ${at()}"/>`;
}

const moved = (next: Next, byMm: number, inner: string): string =>
  `<g transform="translate(${n((next() - 0.5) * byMm)} ${n((next() - 0.5) * byMm)})">${inner}</g>`;

const PATTERNS: Record<string, (next: Next) => string> = {
  duplicates(next) {
    const one = shape(next);
    return rows(some(next, 800), () => one);
  },
  'near duplicates'(next) {
    const one = shape(next);
    const byMm = 10 ** (1 - 8 * next());
    return rows(some(next, 500), () => moved(next, byMm, one));
  },
  grid(next) {
    const step = 100 / some(next, 400);
    return `<path d="${rows(Math.floor(100 / step), (k) => `M0 ${n(k * step)}h100M${n(k * step)} 0v100`)}"/>`;
  },
  star(next) {
    const corners = 5 + some(next, 900);
    const skip = 1 + Math.floor((corners / 2) * next());
    const corner = (k: number) => (2 * Math.PI * k * skip) / corners;
    const points = rows(corners, (k) => `${n(50 + 50 * Math.cos(corner(k)))},${n(50 + 50 * Math.sin(corner(k)))}`);
    return `<polygon points="${points}"/>`;
  },
  concentric(next) {
    const step = 45 / some(next, 1200);
    const off = () => n(50 + (next() - 0.5) * step * 3);
    return rows(Math.floor(45 / step), (k) => `<circle cx="${off()}" cy="${off()}" r="${n(2 + k * step)}"/>`);
  },
  slivers(next) {
    const wide = 10 ** (1 - 5 * next());
    return rows(some(next, 600), () => {
      const turn = n(180 * next());
      return `<rect x="${n(50 * next())}" y="${n(50 * next())}" width="${n(90 * next())}" height="${n(wide)}" transform="rotate(${turn} 50 50)"/>`;
    });
  },
  'over itself'(next) {
    const corners = Array.from({ length: 2 + Math.floor(6 * next()) }, () => `${n(100 * next())} ${n(100 * next())}`);
    const to = () => corners[Math.floor(corners.length * next())]!;
    return `<path d="M${corners[0]}L${rows(some(next, 1500), to)}${next() < 0.5 ? 'z' : ''}"/>`;
  },
  'deep groups'(next) {
    const deep = some(next, 300);
    const open = rows(
      deep,
      () =>
        `<g transform="rotate(${n(next())}) scale(${n(1 + (next() - 0.5) / 100)})">${next() < 0.3 ? shape(next) : ''}`,
    );
    return `${open}${shape(next)}${'</g>'.repeat(deep)}`;
  },
  'nested use'(next) {
    const each = 2 + some(next, 12);
    const levels = 1 + Math.floor(6 * next());
    const step = next() < 0.4 ? 0 : 10 * next();
    const level = (k: number) =>
      `<g id="g${k + 1}">${rows(each, (m) => `<use href="#g${k}" x="${n(m * step)}" y="${n(k * step)}"/>`)}</g>`;
    return `<defs><g id="g0">${shape(next)}</g>${rows(levels, level)}</defs><use href="#g${levels}"/>`;
  },
  dashes(next) {
    const long = 10 ** (1 - 3 * next());
    const lines = some(next, 20);
    return `<path d="${rows(some(next, 3000), (k) => `M${n((k * long * 1.5) % 100)} ${n((k % lines) / 2)}h${n(long)}`)}"/>`;
  },
  scribble(next) {
    const reach = 10 ** (2 - 3 * next());
    let [x, y] = [50, 50];
    const go = () => {
      x += (next() - 0.5) * reach;
      y += (next() - 0.5) * reach;
      return `${n(x)} ${n(y)}`;
    };
    return `<path d="M50 50L${rows(some(next, 3000), go)}"/>`;
  },
  spiral(next) {
    const turns = some(next, 100);
    const point = (k: number) => {
      const angle = (k * turns * 2 * Math.PI) / 2000;
      return `${n(50 + ((angle * 45) / (turns * 2 * Math.PI)) * Math.cos(angle))} ${n(50 + ((angle * 45) / (turns * 2 * Math.PI)) * Math.sin(angle))}`;
    };
    return `<path d="M50 50L${rows(2000, point)}"/>`;
  },
};

/** An SVG of one or two of the patterns, at a usual, a huge or a tiny scale. */
export function crowdedDrawing(seed: number): string {
  const next = numbersFrom(seed);
  next();
  const names = Object.keys(PATTERNS);
  const pattern = () => PATTERNS[names[Math.floor(names.length * next())]!]!(next);
  const scale = next() < 0.7 ? 1 : 10 ** (10 * next() - 6);
  const inner = next() < 0.8 ? pattern() : `${pattern()}\n${pattern()}`;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="120mm" viewBox="0 0 120 120" fill="none" stroke="#4a7c59"><g transform="scale(${n(scale)})">\n${inner}\n</g></svg>\n`;
}

/** A toolpath that runs along the same few lines and arcs again and again, exactly or nearly. */
export function crowdedToolpath(seed: number): string {
  const next = numbersFrom(seed);
  next();
  const places = Array.from({ length: 2 + some(next, 60) }, () => [10 + 90 * next(), 10 + 90 * next()] as const);
  const off = next() < 0.5 ? 0 : 10 ** (-6 * next());
  const inOrder = next() < 0.5;
  const moves = rows(some(next, 3000), (k) => {
    const [x, y] = places[inOrder ? k % places.length : Math.floor(places.length * next())]!;
    const word = next() < 0.1 ? 'G2 R200' : 'G1';
    return `${word} X${(x + off * next()).toFixed(5)} Y${(y + off * next()).toFixed(5)}${next() < 0.1 ? ` S${Math.floor(1000 * next())}` : ''}`;
  });
  return `G21 G90\nG0 X10 Y10\nM3 S800 F${60 + Math.floor(3000 * next())}\n${moves}\nM5\nM2\n`;
}
