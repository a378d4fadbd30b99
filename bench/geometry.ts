import { joinChains } from '../src/geometry/outlines/chains.ts';
import { nestContours } from '../src/geometry/outlines/contours.ts';
import { findCrossings } from '../src/geometry/outlines/crossings.ts';
import { narrowPlaces } from '../src/geometry/outlines/distance.ts';
import type { Polyline } from '../src/geometry/outlines/outline.ts';
import { findJoints } from '../src/geometry/outlines/widths.ts';
import { coverageOf } from '../src/geometry/overlap/coverage.ts';
import { findOverlaps } from '../src/geometry/overlap/overlap.ts';
import { findPlacement } from '../src/geometry/placement/placement.ts';
import { type Segments, segmentsOf } from '../src/geometry/segments/segments.ts';

/**
 * A sheet of 1,000 seed-tray dividers: each a plate with two slots and a ring of 96 chords, about 106 segments. Method:
 * each search runs once, in one process, on the same drawing; its wall time is printed.
 */
function sheet(count: number): Polyline[] {
  const lines: Polyline[] = [];
  for (let k = 0; k < count; k++) {
    const x = 30 * (k % 40);
    const y = 22 * Math.floor(k / 40);
    const plate = [0, 0, 10, 0, 10, 8, 13, 8, 13, 0, 28, 0, 28, 20, 0, 20];
    lines.push({ xy: Float64Array.from(plate, (v, i) => v + (i % 2 === 0 ? x : y)), closed: true });
    const ring = new Float64Array(192);
    for (let c = 0; c < 96; c++) {
      ring[2 * c] = x + 20 + 4 * Math.cos((2 * Math.PI * c) / 96);
      ring[2 * c + 1] = y + 12 + 4 * Math.sin((2 * Math.PI * c) / 96);
    }
    lines.push({ xy: ring, closed: true });
  }
  return lines;
}

function timed(what: string, work: () => string): void {
  const start = performance.now();
  const result = work();
  console.log(`${what.padEnd(34)} ${(performance.now() - start).toFixed(0).padStart(6)} ms   ${result}`);
}

/** Passes of all stretches. */
function passesOf(segments: Segments): number {
  let passes = 0;
  findOverlaps(segments).each((stretch) => {
    passes += stretch.passes;
  });
  return passes;
}

const lines = sheet(962);
const once = segmentsOf(lines);
const twice = segmentsOf([...lines, ...lines.map((line) => ({ ...line, xy: line.xy.slice().map((v) => v + 0.01) }))]);
const moved = lines.map((line) => ({ ...line, xy: line.xy.map((v, i) => (i % 2 === 0 ? v + 7 : 600 - v)) }));
console.log(`${once.count} segments in ${lines.length} outlines`);
timed('overlaps, drawn once', () => `${passesOf(once)} passes`);
timed(`overlaps, drawn twice (${twice.count})`, () => `${passesOf(twice)} passes`);
timed('chains', () => `${joinChains(once, 0.01).count} chains`);
timed('nesting', () => `${nestContours(lines).depth.reduce((a, b) => Math.max(a, b), 0)} deep`);
timed('crossings', () => `${findCrossings(lines).items.length} crossings`);
timed('narrow places below 2.5 mm', () => `${narrowPlaces(lines, 2.5).items.length} places`);
timed('joints', () => `${findJoints(lines, 30).length} joints`);
timed('coverage by itself', () => `${coverageOf(once, once, { toleranceMm: 0.05 }).coveredMm.toFixed(0)} mm`);
timed('placement', () => JSON.stringify(findPlacement(lines, moved, { expectYFlip: true }).placement));
