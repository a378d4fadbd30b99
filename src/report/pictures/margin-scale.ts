import type { DrawnCut } from '../../facts/drawing/drawing-model.ts';
import { formatChance } from '../../units/format.ts';

/**
 * Upper ends of the classes of P(through); the last is open. The colours tell chances and no verdicts: those hang on what a prediction
 * rests on.
 */
const CLASS_ENDS = [0.1, 0.5, 0.9, 0.99];

/** What the classes of the margin scale are called, the least sure first. */
export const MARGIN_CLASSES: { css: string; words: string }[] = [
  { css: 'm0', words: 'below 10 %: hardly parts' },
  { css: 'm1', words: '10 to 50 %: rather not' },
  { css: 'm2', words: '50 to 90 %: not surely' },
  { css: 'm3', words: '90 to 99 %' },
  { css: 'm4', words: '99 % and above' },
];
export const GROOVE_CLASS = { css: 'm-groove', words: 'groove: is not to part' };
export const UNKNOWN_CLASS = { css: 'm-none', words: 'not predicted' };

/** The class of a cut: how surely it parts the sheet. A groove is not meant to. */
export function marginClass({ aim, probability }: Pick<DrawnCut, 'aim' | 'probability'>): {
  css: string;
  words: string;
} {
  if (aim !== 'through') return GROOVE_CLASS;
  if (probability === null) return UNKNOWN_CLASS;
  return MARGIN_CLASSES[CLASS_ENDS.filter((end) => probability >= end).length]!;
}

/** How likely a cut is to part the sheet, in words. */
export function chanceText({ aim, probability }: Pick<DrawnCut, 'aim' | 'probability'>): string {
  if (aim !== 'through') return GROOVE_CLASS.words;
  return probability === null ? UNKNOWN_CLASS.words : `${formatChance(probability)} likely to part`;
}

/** Cuts with the least sure to part first; those that are not to part, or were not predicted, come last. */
export function leastSureFirst(cuts: readonly DrawnCut[]): DrawnCut[] {
  const odds = ({ aim, probability }: DrawnCut) => (aim === 'through' ? (probability ?? 2) : 3);
  return [...cuts].sort((a, b) => odds(a) - odds(b) || a.cut - b.cut);
}
