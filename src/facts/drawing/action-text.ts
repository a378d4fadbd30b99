import { formatMm, formatPercent, formatSpeed } from '../../units/format.ts';
import type { CutFact, RemedyFact } from '../cuts/cut-fact.ts';

/**
 * The one thing to do about a cut, in so few words that a picture can say it large; its numbers in full stand with the remedy. Null where the
 * cut is as sure as it is held to, or nothing was sought for it.
 */
export function actionText({ remedies }: CutFact): string | null {
  const first = remedies[0];
  return first ? shortText(first) : null;
}

function shortText(remedy: RemedyFact): string {
  const { kind, lens, layers, layerThicknessMm, passes, setting, speedMmPerS, text } = remedy;
  switch (kind) {
    case 'none':
      return 'Use thinner stock or a stronger source';
    case 'stack':
      return `Stack ${layers} layers of ${formatMm(layerThicknessMm ?? 0)}`;
    case 'other-lens':
      return `Fit the ${lens} lens, cut at ${formatSpeed(speedMmPerS ?? 0)}`;
    case 'other-recipe':
      return [
        lens === null ? '' : `Fit the ${lens} lens:`,
        `${passes} ${passes === 1 ? 'pass' : 'passes'}, ${formatPercent(setting ?? 0)}, ${formatSpeed(speedMmPerS ?? 0)}`,
      ]
        .filter((part) => part !== '')
        .join(' ');
    default:
      return text;
  }
}
