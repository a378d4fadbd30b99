import { joinChains } from '../../geometry/outlines/chains.ts';
import { findCrossings } from '../../geometry/outlines/crossings.ts';
import type { Polyline } from '../../geometry/outlines/outline.ts';
import { findOverlaps } from '../../geometry/overlap/overlap.ts';
import { segmentsOf } from '../../geometry/segments/segments.ts';
import type { Sidecar } from '../../job/model.ts';
import type { Artwork } from '../../model/artwork.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import type { View } from '../cuts/through-lines.ts';
import type { TaskFact } from '../facts.ts';
import type { ArtworkGeometry, MatchFact } from '../geometry-facts.ts';
import { jointsOf, narrowOf, websOf } from './fine-detail.ts';
import { scaleSuspect } from './scale-suspect.ts';
import { offSheet } from './sheet-fit.ts';

/** Ends this near to each other are one point, mm. */
const SAME_POINT_MM = 0.05;
/** Gaps up to this are meant to be closed: no part is held by less, mm. */
const NEARLY_MM = 1;
/** Overlaps shorter than this are touching corners, mm. */
const SHORT_MM = 1;
/** Outlines shorter than this are strays: dots and ends of lines left behind, mm. */
const STRAY_MM = 0.5;
/** Places that are listed one by one. */
const MOST_LISTED = 500;

/** What the artwork's lines say about the parts, apart from any toolpath. Only lines that part the sheet are looked at. */
export function artworkGeometry(input: {
  artwork: Artwork;
  tasks: readonly TaskFact[];
  file: string;
  kerfMm: number | null;
  thicknessMm: number | null;
  sidecar: Sidecar | null;
  toolpath: Toolpath | null;
  match: MatchFact | null;
}): ArtworkGeometry {
  const { artwork, tasks, file, kerfMm } = input;
  const through = tasks.filter((task) => task.aim === 'through').flatMap((task) => [...task.outlines]);
  through.sort((a, b) => a - b);
  const view: View = {
    artwork,
    numbers: through,
    lines: through.map((i) => artwork.outlines[i]!),
    locationOf: (i) => ({ file, ...artwork.elements[artwork.outlines[i]!.element]!.place }),
  };
  const strays = through.filter((i) => artwork.outlines[i]!.lengthMm < STRAY_MM);
  const crossings = crossingsOf(view);
  return {
    ...openOf(view),
    duplicates: duplicatesOf(view),
    ...crossings,
    webs: websOf(view, kerfMm, input.thicknessMm, SAME_POINT_MM),
    narrow: narrowOf(view, kerfMm),
    joints: jointsOf(view),
    strays: strays.slice(0, MOST_LISTED).map((i, k) => ({
      lengthMm: artwork.outlines[i]!.lengthMm,
      location: view.locationOf(i),
      // The first stands for those beyond the list as well.
      count: k === 0 ? Math.max(1, strays.length - MOST_LISTED + 1) : 1,
    })),
    offSheet: offSheet(artwork, through, view.locationOf, input.sidecar, input.toolpath, input.match),
    scaleSuspect: scaleSuspect(artwork, input.sidecar, input.match),
    kerfMm,
  };
}

/** Open lines that do not join others into a closed contour, and those that all but do. */
function openOf(view: View): Pick<ArtworkGeometry, 'open' | 'nearlyClosed'> {
  const open = view.numbers.filter((i) => {
    const outline = view.artwork.outlines[i]!;
    return !outline.closed && outline.xy.length >= 4 && outline.lengthMm >= STRAY_MM;
  });
  const n = open.length;
  const ends = {
    count: n,
    x0: new Float64Array(n),
    y0: new Float64Array(n),
    x1: new Float64Array(n),
    y1: new Float64Array(n),
  };
  for (const [k, i] of open.entries()) {
    const { xy } = view.artwork.outlines[i]!;
    ends.x0[k] = xy[0]!;
    ends.y0[k] = xy[1]!;
    ends.x1[k] = xy[xy.length - 2]!;
    ends.y1[k] = xy[xy.length - 1]!;
  }
  const chains = joinChains(ends, SAME_POINT_MM, (k) => view.artwork.outlines[open[k]!]!.lengthMm);
  const result: Pick<ArtworkGeometry, 'open' | 'nearlyClosed'> = { open: [], nearlyClosed: [] };
  for (let c = 0; c < chains.count; c++) {
    if (chains.closed[c]) continue;
    let lengthMm = 0;
    let first = Infinity;
    for (let k = chains.start[c]!; k < chains.start[c + 1]!; k++) {
      const i = open[chains.item[k]!]!;
      lengthMm += view.artwork.outlines[i]!.lengthMm;
      first = Math.min(first, i);
    }
    const gapMm = chains.gapMm[c]!;
    const location = view.locationOf(first);
    if (gapMm <= NEARLY_MM && lengthMm > 10 * gapMm) {
      if (result.nearlyClosed.length < MOST_LISTED) result.nearlyClosed.push({ outline: first, location, gapMm });
    } else if (result.open.length < MOST_LISTED) result.open.push({ outline: first, location, gapMm, lengthMm });
  }
  return result;
}

/** Lines that are drawn again over others: they will be burnt twice. */
function duplicatesOf(view: View): ArtworkGeometry['duplicates'] {
  const stretches = findOverlaps(segmentsOf(view.lines), { toleranceMm: SAME_POINT_MM });
  const found = new Map<string, { first: number; other: number; lengthMm: number; times: number }>();
  stretches.each(({ passes, owners, lengthMm }) => {
    if (passes < 2) return;
    const first = owners[0]!;
    const other = owners[1]!;
    const key = `${first},${other}`;
    const known = found.get(key);
    if (known) {
      known.lengthMm += lengthMm;
      known.times = Math.max(known.times, passes);
    } else found.set(key, { first, other, lengthMm, times: passes });
  });
  return [...found.values()]
    .filter((one) => one.lengthMm >= SHORT_MM)
    .slice(0, MOST_LISTED)
    .map(({ first, other, lengthMm, times }) => ({
      location: view.locationOf(view.numbers[other]!),
      other: view.locationOf(view.numbers[first]!),
      lengthMm,
      times,
    }));
}

function crossingsOf(view: View): Pick<ArtworkGeometry, 'selfCrossing' | 'overlappingParts'> {
  const { places } = findCrossings(view.lines as readonly Polyline[]);
  const self = new Map<number, ArtworkGeometry['selfCrossing'][number]>();
  const pairs = new Map<string, ArtworkGeometry['overlappingParts'][number]>();
  for (const { x, y, contourA, contourB } of places) {
    const a = view.numbers[contourA]!;
    const b = view.numbers[contourB]!;
    if (a === b) {
      const known = self.get(a);
      if (known) known.count++;
      else self.set(a, { outline: a, location: view.locationOf(a), xMm: x, yMm: y, count: 1 });
    } else if (view.lines[contourA]!.closed && view.lines[contourB]!.closed && !pairs.has(`${a},${b}`)) {
      pairs.set(`${a},${b}`, { location: view.locationOf(b), other: view.locationOf(a), xMm: x, yMm: y });
    }
  }
  return {
    selfCrossing: [...self.values()].slice(0, MOST_LISTED),
    overlappingParts: [...pairs.values()].slice(0, MOST_LISTED),
  };
}
