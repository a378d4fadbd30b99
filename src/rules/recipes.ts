import type { CutFact } from '../facts/cuts/cut-fact.ts';
import type { JobFacts } from '../facts/facts.ts';
import type { Bound, ProposalFact, Recipe } from '../facts/recipes/recipe-fact.ts';
import type { ReportDescriptor } from '../findings/report-descriptor.ts';
import { formatCount, formatFocus, formatMm, formatPercent, formatSpeed, formatWatts } from '../units/format.ts';
import { relatedPlaces } from './places.ts';
import type { NotApplicable } from './rule.ts';
import { listed, quoted } from './wording.ts';

/** The proposals for cuts without planned settings, or why there are none. */
export function proposals(facts: JobFacts): readonly ProposalFact[] | NotApplicable {
  if (facts.proposals.length > 0) return facts.proposals;
  if (facts.toolpath !== null) return { notApplicable: 'the toolpath has the settings' };
  const open = facts.cuts.find(
    ({ aim, passes, notPredicted }) => aim === 'through' && passes.length === 0 && notPredicted,
  );
  return { notApplicable: open?.notPredicted ?? 'no cut has to go through without settings' };
}

/** A recipe in words: "2 passes at 42.5 W (85 %), 6.5 mm/s, the focus 1.0 mm below the face and lowered 1.5 mm after each". */
export function recipeText(recipe: Recipe, facts: JobFacts): string {
  const { passes, powerW, setting, speedMmPerS, focusMm, focusStepMm, lens } = recipe;
  const count = formatCount(passes, 'pass', 'passes');
  const step = focusStepMm < 0 ? ` and lowered ${formatMm(-focusStepMm)} after each` : '';
  const other = lens === facts.lens?.id ? '' : `, with the ${lens} lens`;
  const power = `${formatWatts(powerW)} (${formatPercent(setting)})`;
  return `${count} at ${power}, ${formatSpeed(speedMmPerS)}, the focus ${formatFocus(focusMm)}${step}${other}`;
}

const BOUND_TEXTS: Record<Bound['kind'], (value: number) => string> = {
  ceiling: (value) => (value < 1 ? `the recommended maximum of ${formatPercent(value)}` : 'full power'),
  'planned-power': (value) => `the planned power of ${formatPercent(value)}`,
  'clean-speed': (value) => `the clean speed of ${formatSpeed(value)}`,
  'slowest-speed': (value) => `a slowest speed of ${formatSpeed(value)}`,
  'planned-speed': (value) => `the planned speed of ${formatSpeed(value)}`,
  'most-passes': (value) => `${formatCount(value, 'pass', 'passes')} at most with this kind of source`,
  'planned-passes': (value) => `the planned ${formatCount(value, 'pass', 'passes')}`,
  'planned-focus': (value) => `the planned focus ${formatFocus(value)}`,
  'named-lens': () => 'the lens that is named',
};

/** What keeps a recipe from being surer, in words. */
export function boundsText(bounds: readonly Bound[]): string {
  const texts = bounds.map(({ kind, value }) => BOUND_TEXTS[kind](value ?? 0));
  return texts.length < 2 ? texts.join('') : `${texts.slice(0, -1).join(', ')} and ${texts.at(-1)}`;
}

/** Place, subject and further places of what is said of cuts that share a proposal. */
export function ofCuts(cuts: readonly [CutFact, ...CutFact[]], messageId: string) {
  const tasks = [...new Set(cuts.map(({ task }) => task))];
  const { location } = cuts[0];
  return {
    tasks: `${tasks.length === 1 ? 'task' : 'tasks'} ${tasks.length === 1 ? quoted(tasks[0]!) : listed(tasks)}`,
    location,
    related: relatedPlaces(
      cuts.slice(1).map((cut) => cut.location),
      messageId,
    ) as NonNullable<ReportDescriptor['related']>,
    subject: tasks.join(', '),
  };
}
