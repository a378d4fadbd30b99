import type { Placement } from '../../geometry/placement/placement.ts';
import type { Sidecar, Task } from '../../job/model.ts';
import type { Artwork } from '../../model/artwork.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import type { Found } from '../../units/found.ts';
import type { CutFact } from '../cuts/cut-fact.ts';
import type { JobOrigin } from '../input/job-origin.ts';
import type { Assignment } from '../tasks/tasks.ts';
import { extraStrokes } from './differences.ts';
import type { LaidOver } from './laid-over.ts';
import type { MatchFact, MissingOutline, PlacementFact, UnmatchedTask } from './match-fact.ts';
import { settingsThatDiffer } from './planned-settings.ts';
import { scaleCause } from './scale.ts';

/** What the toolpath has of the artwork and of the plan; null without a toolpath, and where there is neither of the two. */
export function matchFact(input: {
  job: JobOrigin;
  sidecar: Sidecar | null;
  toolpath: Toolpath | null;
  artwork: Artwork | null;
  laid: LaidOver | null;
  assignment: Assignment;
  missing: Found<MissingOutline>;
  cuts: readonly CutFact[];
}): MatchFact | null {
  const { job, sidecar, toolpath, artwork, laid, assignment, cuts } = input;
  const planned = sidecar !== null && sidecar.tasks.length > 0;
  if (!toolpath || (!artwork && !planned)) return null;
  const placement = laid?.placement ?? null;
  return {
    placement: placement && placementFact(placement),
    placementEndedEarly: laid?.endedEarly ?? null,
    scaleCause: placement && scaleCause(placement.scale),
    artworkLengthMm: artwork?.lengthMm ?? 0,
    toolpathLengthMm: toolpath.cutLengthMm,
    coveredArtworkMm: laid?.artwork?.coveredMm ?? 0,
    coveredToolpathMm: laid?.toolpath?.coveredMm ?? 0,
    missing: input.missing,
    extra: extraStrokes(job, toolpath, laid),
    settings: sidecar ? settingsThatDiffer(sidecar, assignment, cuts) : [],
    unmatchedTasks: unmatchedTasks(assignment, toolpath),
  };
}

function placementFact({ scale, quarterTurns, mirrored, dx, dy, offsetMm, ambiguous }: Placement): PlacementFact {
  return { scale, quarterTurns, mirrored, dxMm: dx, dyMm: dy, offsetMm, ambiguous };
}

function unmatchedTasks(assignment: Assignment, toolpath: Toolpath): UnmatchedTask[] {
  const found = new Set<number>([...assignment.ofStroke, ...assignment.ofArea]);
  return assignment.tasks.flatMap(({ name, aim, planned, location }, index) => {
    if (!planned || found.has(index)) return [];
    return [{ task: name, aim, reason: whyUnmatched(planned, toolpath), location }];
  });
}

/** Why no stroke and no raster area belongs to a task, as the rest of a sentence. */
function whyUnmatched({ program, aim }: Task, { areas }: Toolpath): string {
  const asked = [
    program?.comment === undefined ? null : `the comment "${program.comment}"`,
    program?.tool === undefined ? null : `tool ${program.tool}`,
    program?.feedMmPerS === undefined ? null : 'the feed',
    program?.power === undefined ? null : 'the power',
  ].filter((one) => one !== null);
  if (asked.length > 0) return `no powered stroke bears ${asked.join(' and ')}`;
  if (aim !== 'surface') return 'none of its outlines were found in the toolpath';
  return areas.length > 0
    ? 'the raster areas could not be told apart: say which with `program`'
    : 'the toolpath has no raster area';
}
