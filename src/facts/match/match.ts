import type { Placement } from '../../geometry/placement/placement.ts';
import type { Sidecar } from '../../job/model.ts';
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
    extra: extraStrokes(job, toolpath, laid, assignment),
    settings: sidecar ? settingsThatDiffer(sidecar, assignment, cuts) : [],
    unmatchedTasks: unmatchedTasks(assignment, toolpath),
  };
}

function placementFact({ scale, quarterTurns, mirrored, dx, dy, offsetMm, ambiguous }: Placement): PlacementFact {
  return { scale, quarterTurns, mirrored, dxMm: dx, dyMm: dy, offsetMm, ambiguous };
}

function unmatchedTasks(assignment: Assignment, toolpath: Toolpath): UnmatchedTask[] {
  const found = new Set<number>([...assignment.ofStroke, ...assignment.ofArea]);
  return assignment.tasks.flatMap((task, index) => {
    if (!task.planned || found.has(index)) return [];
    const program = task.planned.program;
    const asked = program
      ? [
          program.comment !== undefined ? `the comment "${program.comment}"` : null,
          program.tool !== undefined ? `tool ${program.tool}` : null,
          program.feedMmPerS !== undefined ? 'the feed' : null,
          program.power !== undefined ? 'the power' : null,
        ]
          .filter((one) => one !== null)
          .join(' and ')
      : null;
    const reason = asked
      ? `no powered stroke bears ${asked}`
      : task.aim === 'surface'
        ? toolpath.areas.length > 0
          ? 'the raster areas could not be told apart: say which with `program`'
          : 'the toolpath has no raster area'
        : 'none of its outlines were found in the toolpath';
    return [{ task: task.name, reason, location: task.location }];
  });
}
