import type { Strokes } from '../../model/strokes.ts';
import type { CutFact } from '../cuts/cut-fact.ts';
import { isFromToolpath } from '../cuts/from-toolpath.ts';
import { planOutlines } from '../cuts/planned-outlines.ts';
import type { JobFacts } from '../facts.ts';
import { strokeLengthMm } from '../strokes/stroke-geometry.ts';
import type { TimeFact } from '../time/job-time.ts';

/** What a job's time is worked out from again. */
type TimedJob = Pick<JobFacts, 'toolpath' | 'artwork' | 'machine' | 'tasks' | 'time'>;

/**
 * The time of a job once some of its cuts run otherwise, s; travel, dwells and rasters stay as they are. Null where the job has no time.
 * @param changed each cut as planned and as it would be.
 */
export function curedTime(job: TimedJob, changed: readonly (readonly [CutFact, CutFact])[]): TimeFact | null {
  const { time } = job;
  if (time === null) return null;
  const moreS = changed.reduce((sum, [planned, cured]) => sum + moreTimeS(job, planned, cured), 0);
  return { ...time, cuttingS: time.cuttingS + moreS, totalS: time.totalS + moreS };
}

function moreTimeS(job: TimedJob, planned: CutFact, cured: CutFact): number {
  const { artwork, machine, time } = job;
  if (isFromToolpath(job, planned)) return runTimeS(job, planned, cured) - runTimeS(job, planned, planned);
  // A task that the toolpath does not have is no part of its time.
  if (!artwork || !machine || time?.basis !== 'artwork') return 0;
  const timeOf = (cut: CutFact) =>
    planOutlines(
      artwork,
      machine,
      { speedMmPerS: cut.passes[0]?.programmedMmPerS ?? null, passes: cut.passes.length },
      planned.strokes,
    ).timeS;
  return timeOf(cured) - timeOf(planned);
}

/**
 * How long the strokes of a cut take at the speeds of its passes, s. A stroke takes L/v and what starting and stopping cost it in the file, which
 * grows with the speed (v/a, textbook kinematics): never less than in the file where it is run more slowly, never more where faster.
 */
function runTimeS({ toolpath }: TimedJob, planned: CutFact, cut: CutFact): number {
  const before = Math.max(1, planned.passes.length);
  // Passes are mostly run at one speed: there may be millions of strokes.
  const passTimeS = new Map<number, number>();
  let timeS = 0;
  for (const { programmedMmPerS } of cut.passes) {
    const known = passTimeS.get(programmedMmPerS) ?? onePassTimeS(toolpath!.strokes, planned.strokes, programmedMmPerS);
    passTimeS.set(programmedMmPerS, known);
    timeS += known;
  }
  return timeS / before;
}

/** How long the chosen strokes take once each, at a speed in mm/s. */
function onePassTimeS(strokes: Strokes, chosen: Uint32Array, speed: number): number {
  const { reachedMmPerS, speedMmPerS } = strokes;
  let sumS = 0;
  // All in one loop: a call for each of millions would make an object of each number.
  for (let k = 0; k < chosen.length; k++) {
    const i = chosen[k]!;
    const reached = reachedMmPerS[i]!;
    const wanted = speedMmPerS[i]!;
    if (!(reached > 0) || !(wanted > 0)) continue;
    const lengthMm = strokeLengthMm(strokes, i);
    const inFileS = lengthMm / reached;
    const startsS = Math.max(0, inFileS - lengthMm / wanted);
    const timeS = lengthMm / speed + startsS * (speed / wanted);
    sumS += speed < wanted ? Math.max(inFileS, timeS) : Math.min(inFileS, timeS);
  }
  return sumS;
}
