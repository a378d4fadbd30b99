import type { Sidecar } from '../../job/model.ts';
import type { Artwork } from '../../model/artwork.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import type { WorkBudget } from '../../units/work.ts';
import type { JobOrigin } from '../input/job-origin.ts';
import type { MatchFact } from '../match/match-fact.ts';
import type { TaskFact } from '../tasks/task-fact.ts';
import { crossingLines, duplicateLines } from './crossing-lines.ts';
import { jointsOf, narrowOf, websOf } from './fine-detail.ts';
import type { ArtworkGeometry, Stray } from './geometry-fact.ts';
import { openLines } from './open-lines.ts';
import { scaleSuspect } from './scale-suspect.ts';
import { offSheet } from './sheet-fit.ts';
import { STRAY_MM, type ThroughLines, throughLines } from './through-lines.ts';

/** What the artwork's lines say about the parts, apart from any toolpath. Only lines that part the sheet are looked at. */
export function artworkGeometry(input: {
  job: JobOrigin;
  artwork: Artwork | null;
  tasks: readonly TaskFact[];
  kerfMm: number | null;
  thicknessMm: number | null;
  sidecar: Sidecar | null;
  toolpath: Toolpath | null;
  match: MatchFact | null;
  work: WorkBudget;
}): ArtworkGeometry | null {
  const { job, artwork, tasks, kerfMm, thicknessMm, sidecar, toolpath, match, work } = input;
  if (!artwork) return null;
  const through = throughLines(artwork, job.files.artwork ?? job.home.file, tasks);
  return {
    ...openLines(through),
    duplicates: duplicateLines(through, work),
    ...crossingLines(through, kerfMm, work),
    webs: websOf(through, { kerfMm, thicknessMm, work }),
    narrow: narrowOf(through, kerfMm),
    joints: jointsOf(through),
    strays: straysOf(through),
    offSheet: offSheet(through, { sidecar, toolpath }),
    scaleSuspect: scaleSuspect(artwork, sidecar, match),
    kerfMm,
  };
}

function straysOf({ artwork, numbers, locationOf }: ThroughLines): Stray[] {
  const strays = numbers.filter((i) => artwork.outlines[i]!.lengthMm < STRAY_MM);
  return strays.map((i) => ({ lengthMm: artwork.outlines[i]!.lengthMm, location: locationOf(i) }));
}
