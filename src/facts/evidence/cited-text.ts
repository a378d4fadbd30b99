import type { CitedCut } from '../../job/evidence/cited-cuts.ts';
import {
  formatChance,
  formatCount,
  formatFocus,
  formatMm,
  formatPercent,
  formatSpeed,
  formatWatts,
} from '../../units/format.ts';

/** The power of a published cut as its source states it: "50 % of 40 W", or "30 W" where it states watts at the work. */
export function citedPower({ setting, ratedW, powerW }: CitedCut): string {
  return setting === null ? formatWatts(powerW) : `${formatPercent(setting)} of ${formatWatts(ratedW)}`;
}

/** What came of it, in a word or two. */
export function citedOutcome({ outcome, depthMm }: CitedCut): string {
  if (outcome === 'limit') return 'just parted';
  if (outcome === 'cut') return 'parted';
  return depthMm === null ? 'did not part' : `${formatMm(depthMm)} deep`;
}

/** A published cut as a sentence or two: what was done, what came of it, what the catalogue gives it, and where it was published. */
export function citedSentence(cut: CitedCut): string {
  const { thicknessMm, passes, speedMmPerS, focusMm, citation } = cut;
  const done = cut.outcome === 'not' ? 'did not part' : cut.outcome === 'limit' ? 'just parted' : 'parted';
  const kept = cut.use === 'daily' ? ', a daily setting' : '';
  const focus = focusMm === 0 ? '' : `, the focus ${formatFocus(focusMm)}`;
  const recipe = `${formatCount(passes, 'pass', 'passes')} at ${formatSpeed(speedMmPerS)}, ${citedPower(cut)}${focus}`;
  const chance = formatChance(cut.throughProbability);
  return `Published: ${formatMm(thicknessMm)} ${done} in ${recipe}${kept} (${citation}); kerflint’s catalogue gives that cut ${chance}.`;
}

/** The same in a few words, inside a sentence: "3.0 mm in 1 pass at 8.5 mm/s with 20 W". */
export function citedBriefly({ thicknessMm, passes, speedMmPerS, powerW }: CitedCut): string {
  return `${formatMm(thicknessMm)} in ${formatCount(passes, 'pass', 'passes')} at ${formatSpeed(speedMmPerS)} with ${formatWatts(powerW)}`;
}
