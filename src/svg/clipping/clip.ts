import type { Outline } from '../../model/artwork.ts';
import type { ClipChain } from '../frames/frame.ts';
import { emptyBox, growBox } from '../frames/matrix.ts';
import type { Region } from './clip-region.ts';

/** Pairs of outline segment and region edge that one file may cost before clipping is given up: some seconds. */
export const MOST_CLIP_WORK = 60_000_000;

/** The budget of clipping that a file's elements share. */
export interface ClipWork {
  left: number;
  gaveUp: boolean;
}

export interface Clipped {
  outlines: Outline[];
  /** What took something away; null when all of it shows. */
  why: 'clip' | 'mask' | null;
}

/** What all regions of a chain leave of outlines. Cut pieces are open, and measured along their chords. */
export function clipOutlines(outlines: Outline[], chain: ClipChain | null, margin: number, work: ClipWork): Clipped {
  let left = outlines;
  let why: Clipped['why'] = null;
  for (let link = chain; link; link = link.outer) {
    const { region } = link;
    const kept: Outline[] = [];
    for (const outline of left) {
      const pieces = clipOutline(outline, region, margin, work);
      if (pieces) {
        why = region.why;
        for (const piece of pieces) kept.push(piece);
      } else kept.push(outline);
    }
    left = kept;
  }
  return { outlines: left, why };
}

/** The pieces of an outline inside a region; null when all of it is inside. */
function clipOutline(outline: Outline, region: Region, margin: number, work: ClipWork): Outline[] | null {
  const { box } = outline;
  const to = region.box;
  if (box.minX > to.maxX + margin || box.maxX < to.minX - margin) return [];
  if (box.minY > to.maxY + margin || box.maxY < to.minY - margin || region.edgeCount === 0) return [];
  const { rectangle } = region;
  if (rectangle && box.minX >= rectangle.minX - margin && box.maxX <= rectangle.maxX + margin) {
    if (box.minY >= rectangle.minY - margin && box.maxY <= rectangle.maxY + margin) return null;
  }
  work.left -= (outline.xy.length / 2) * region.edgeCount;
  if (work.left < 0) {
    work.gaveUp = true;
    return null;
  }
  return cut(outline, region, margin);
}

function cut(outline: Outline, region: Region, margin: number): Outline[] | null {
  const { xy, closed } = outline;
  const corners = xy.length / 2;
  const chains: number[][] = [];
  let open: number[] | null = null;
  let whole = true;
  const last = closed ? corners : corners - 1;
  for (let i = 0; i < last; i++) {
    const j = (i + 1) % corners;
    const [x0, y0, x1, y1] = [xy[2 * i]!, xy[2 * i + 1]!, xy[2 * j]!, xy[2 * j + 1]!];
    const stops = [0, ...crossings(region, x0, y0, x1, y1), 1];
    for (let k = 1; k < stops.length; k++) {
      const [from, to] = [stops[k - 1]!, stops[k]!];
      if (to - from < 1e-12) continue;
      const middle = (from + to) / 2;
      if (!region.shows(x0 + middle * (x1 - x0), y0 + middle * (y1 - y0), margin)) {
        open = null;
        whole = false;
        continue;
      }
      if (!open) {
        open = [x0 + from * (x1 - x0), y0 + from * (y1 - y0)];
        chains.push(open);
      }
      open.push(x0 + to * (x1 - x0), y0 + to * (y1 - y0));
    }
  }
  if (whole) return null;
  joinAcrossStart(chains, closed, xy);
  return chains.map((chain) => piece(chain, outline.element));
}

/** In a closed outline a piece may run through its first corner. */
function joinAcrossStart(chains: number[][], closed: boolean, xy: Float64Array): void {
  const first = chains[0];
  const last = chains.at(-1);
  if (!closed || chains.length < 2 || !first || !last) return;
  const ends = last.at(-2) === xy[0] && last.at(-1) === xy[1];
  if (first[0] !== xy[0] || first[1] !== xy[1] || !ends) return;
  for (let i = 2; i < first.length; i++) last.push(first[i]!);
  chains.shift();
}

function piece(chain: number[], element: number): Outline {
  const box = emptyBox();
  let lengthMm = 0;
  for (let i = 0; i < chain.length; i += 2) {
    growBox(box, chain[i]!, chain[i + 1]!);
    if (i > 0) lengthMm += Math.hypot(chain[i]! - chain[i - 2]!, chain[i + 1]! - chain[i - 1]!);
  }
  return { xy: Float64Array.from(chain), closed: false, element, lengthMm, box };
}

/** Where a segment crosses or touches edges of a region, as rising shares of its length. */
function crossings(region: Region, x0: number, y0: number, x1: number, y1: number): number[] {
  const found: number[] = [];
  const dx = x1 - x0;
  const dy = y1 - y0;
  const [minX, maxX] = x0 < x1 ? [x0, x1] : [x1, x0];
  const [minY, maxY] = y0 < y1 ? [y0, y1] : [y1, y0];
  for (const { edges } of region.layers) {
    for (let i = 0; i < edges.length; i += 4) {
      const ax = edges[i]!;
      const ay = edges[i + 1]!;
      const ex = edges[i + 2]! - ax;
      const ey = edges[i + 3]! - ay;
      if (Math.max(ax, ax + ex) < minX || Math.min(ax, ax + ex) > maxX) continue;
      if (Math.max(ay, ay + ey) < minY || Math.min(ay, ay + ey) > maxY) continue;
      const across = dx * ey - dy * ex;
      if (across === 0) continue;
      const t = ((ax - x0) * ey - (ay - y0) * ex) / across;
      const s = ((ax - x0) * dy - (ay - y0) * dx) / across;
      if (t > 0 && t < 1 && s >= -1e-9 && s <= 1 + 1e-9) found.push(t);
    }
  }
  return found.sort((a, b) => a - b);
}
