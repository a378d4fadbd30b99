import type { CitedCut } from '../../job/evidence/cited-cuts.ts';
import { roundTo } from '../../units/format.ts';
import { type CutQuestion, sameStuff, wellStated } from './near-cuts.ts';

/** A published cut beside a prediction of depth over speed at one power. */
export interface PublishedDot {
  /** The speed at which the power asked about gives as much energy along the line as the published cut had, mm/s. */
  readonly speedMmPerS: number;
  readonly cut: CitedCut;
}

/** Those of the same material, kind of source and number of passes that are stated well, by thickness and speed; and how many others there are. */
export function publishedDots(
  all: readonly CitedCut[],
  { powerW, passes, ...question }: Pick<CutQuestion, 'kind' | 'material'> & { powerW: number; passes: number },
): { dots: PublishedDot[]; others: number } {
  const known = sameStuff(all, question);
  const dots = known
    .filter((cut) => wellStated(cut) && cut.passes === passes)
    .map((cut) => ({ speedMmPerS: roundTo((cut.speedMmPerS * powerW) / cut.powerW, 2), cut }))
    .sort((a, b) => a.cut.thicknessMm - b.cut.thicknessMm || a.speedMmPerS - b.speedMmPerS);
  return { dots, others: known.length - dots.length };
}
