import { formatCount, formatFocus, formatMm, formatPercent, formatSpeed, formatWatts } from '../../units/format.ts';
import type { Bound, Recipe } from './recipe-fact.ts';

/**
 * A recipe in words: "2 passes at 42.5 W (85 %), 6.5 mm/s, the focus 1.0 mm below the face and lowered 1.5 mm after each".
 * @param fitted id of the lens that need not be named.
 */
export function recipeText(recipe: Recipe, fitted: string | null): string {
  const { passes, powerW, setting, speedMmPerS, lens } = recipe;
  const count = formatCount(passes, 'pass', 'passes');
  const other = lens === fitted ? '' : `, with the ${lens} lens`;
  const power = `${formatWatts(powerW)} (${formatPercent(setting)})`;
  return `${count} at ${power}, ${formatSpeed(speedMmPerS)}, ${focusText(recipe)}${other}`;
}

/** "the focus 1.0 mm below the face and lowered 1.5 mm after each". */
export function focusText({ focusMm, focusStepMm }: Pick<Recipe, 'focusMm' | 'focusStepMm'>): string {
  const step = focusStepMm < 0 ? ` and lowered ${formatMm(-focusStepMm)} after each` : '';
  return `the focus ${formatFocus(focusMm)}${step}`;
}

const BOUND_TEXTS: Record<Bound['kind'], (value: number) => string> = {
  'assumed-ceiling': (value) => `${formatPercent(value)}, the usual maximum of such a source, which is assumed`,
  ceiling: (value) => (value < 1 ? `the recommended maximum of ${formatPercent(value)}` : 'full power'),
  'planned-power': (value) => `the planned power of ${formatPercent(value)}`,
  'clean-speed': (value) => `the clean speed of ${formatSpeed(value)}`,
  'slowest-speed': (value) => `a slowest speed of ${formatSpeed(value)}`,
  'planned-speed': (value) => `the planned speed of ${formatSpeed(value)}`,
  'most-passes': (value) => `${formatCount(value, 'pass', 'passes')} at most with this kind of source`,
  'planned-passes': (value) => `the planned ${formatCount(value, 'pass', 'passes')}`,
  'planned-focus': (value) => `the planned focus ${formatFocus(value)}`,
  'named-lens': () => 'the lens that is named',
  'depth-of-focus': (value) => `a depth of focus of ${formatMm(value, 1)}`,
  'fastest-speed': (value) => `the head's ${formatSpeed(value)}`,
};

export function boundText({ kind, value }: Bound): string {
  return BOUND_TEXTS[kind](value ?? 0);
}

/** What keeps a recipe from being surer, in words. */
export function boundsText(bounds: readonly Bound[]): string {
  const texts = bounds.map(boundText);
  return texts.length < 2 ? texts.join('') : `${texts.slice(0, -1).join(', ')} and ${texts.at(-1)}`;
}
