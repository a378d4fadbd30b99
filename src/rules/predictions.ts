import type { CutFact, Prediction } from '../facts/cuts/cut-fact.ts';
import { citedSentence } from '../facts/evidence/cited-text.ts';
import type { NearestCuts } from '../facts/evidence/near-cuts.ts';
import type { JobFacts } from '../facts/facts.ts';
import type { ReportDescriptor } from '../findings/report-descriptor.ts';
import { formatChanceShortOf, formatCount, formatDepth, formatPercent } from '../units/format.ts';
import { relatedPlaces } from './places.ts';
import type { NotApplicable } from './rule.ts';
import { inSentence, listed, quoted, recipe, sheet } from './wording.ts';

/** A through cut with its prediction. */
export interface PredictedCut {
  cut: CutFact;
  prediction: Prediction;
}

/** The through cuts that were predicted, or why there are none. */
export function throughCuts(facts: JobFacts): PredictedCut[] | NotApplicable {
  return predicted(
    facts.cuts.filter((cut) => cut.aim === 'through'),
    'no cut has to go through',
  );
}

function predicted(cuts: readonly CutFact[], none: string): PredictedCut[] | NotApplicable {
  const found = cuts.flatMap((cut) => (cut.prediction === null ? [] : [{ cut, prediction: cut.prediction }]));
  if (found.length > 0) return found;
  return { notApplicable: cuts.find((cut) => cut.notPredicted !== null)?.notPredicted ?? none };
}

/** The chance of the through cut that is least likely to part the sheet; null when none was predicted. */
export function leastSureChance(facts: JobFacts): number | null {
  const chances = facts.cuts.flatMap(({ aim, prediction }) =>
    aim === 'through' && prediction !== null ? [prediction.throughProbability] : [],
  );
  return chances.length === 0 ? null : Math.min(...chances);
}

/** Cuts that fail for one cause: those of one task, and other tasks that the same remedy puts right. */
interface LikeCuts {
  worst: PredictedCut;
  others: PredictedCut[];
  tasks: string[];
}

/** Members with the same key together, in the order in which they come. */
function grouped<T>(members: readonly T[], keyOf: (member: T) => string): T[][] {
  const groups = new Map<string, T[]>();
  for (const member of members) {
    const group = groups.get(keyOf(member));
    if (group === undefined) groups.set(keyOf(member), [member]);
    else group.push(member);
  }
  return [...groups.values()];
}

/** Groups of cuts, each with its least likely cut in front. */
function alike(cuts: readonly PredictedCut[]): LikeCuts[] {
  const byChance = [...cuts].sort((a, b) => a.prediction.throughProbability - b.prediction.throughProbability);
  const byTask = grouped(byChance, ({ cut }) => cut.task);
  const byRemedy = grouped(byTask, (group) => group[0]!.cut.remedies[0]?.text ?? '');
  return byRemedy.map((groups) => {
    const [worst, ...others] = groups.flat() as [PredictedCut, ...PredictedCut[]];
    return { worst, others, tasks: groups.map((group) => group[0]!.cut.task) };
  });
}

/**
 * What to report of cuts that are not likely enough to part the sheet, one for each cause. The message is given the depth, sheet,
 * task, recipe and remedy, the chance and the limit that it falls short of; `saying` chooses it by the worst cut, and adds to what it is
 * given. Related places use the messages `begins` and `alike`.
 */
export function unlikelyCuts(
  facts: JobFacts,
  cuts: readonly PredictedCut[],
  limitOf: (prediction: Prediction) => number,
  saying: (worst: PredictedCut) => Pick<ReportDescriptor, 'messageId' | 'args'>,
): ReportDescriptor[] {
  return alike(cuts).map(({ worst, others, tasks }) => {
    const { cut, prediction } = worst;
    const { messageId, args } = saying(worst);
    const count = others.length === 0 ? '' : `, the worst of ${formatCount(others.length + 1, 'cut')}`;
    return {
      messageId,
      args: {
        depth: formatDepth(prediction.depthMm, prediction.depthLowMm, prediction.depthHighMm),
        sheet: sheet(facts),
        tasks: `${tasks.length === 1 ? `task ${quoted(cut.task)}` : `tasks ${listed(tasks)}`}${count}`,
        recipe: recipe(cut),
        chance: formatChanceShortOf(prediction.throughProbability, limitOf(prediction)),
        limit: formatPercent(limitOf(prediction)),
        remedy: remedySentence(worst),
        ...args,
      },
      location: cut.settingLocation,
      related: [
        ...relatedPlaces([cut.location], 'begins'),
        ...relatedPlaces(
          others.slice(0, 4).map((other) => other.cut.settingLocation),
          'alike',
        ),
      ],
      hints: [...remedyHints(cut), ...publishedHints(cut.published)],
      data: {
        tasks,
        probability: prediction.throughProbability,
        remedies: cut.remedies,
        published: publishedCuts(cut.published),
      },
      subject: tasks.join(', '),
    };
  });
}

/** What to do, as one sentence: the cheapest remedy, or that none was found or sought. */
function remedySentence({ cut, prediction }: PredictedCut): string {
  const text = cut.remedies[0]?.text ?? withoutRemedy(prediction);
  return text.endsWith('.') ? text : `${text}.`;
}

/** The same where a coupon may show that nothing has to be changed. */
export function provedFirst({ cut, prediction }: PredictedCut): string {
  const [first] = cut.remedies;
  if (first === undefined || first.kind === 'none') return `${PROVE}. ${remedySentence({ cut, prediction })}`;
  return `${PROVE}, or ${inSentence(first.text)}.`;
}

const PROVE = 'Prove it on a coupon';

/** A rule's option may ask for more than the probability that remedies are sought for. */
function withoutRemedy({ throughProbability, limit }: Prediction): string {
  return throughProbability >= limit
    ? `Remedies are sought up to ${formatPercent(limit)} only: go slower, raise the power or add a pass, and check again`
    : 'No setting of this machine was found that would do it: take a thinner sheet or a stronger source';
}

/** The remedies behind the first, each a way of its own. */
function remedyHints(cut: CutFact): string[] {
  return cut.remedies.slice(1, 4).map((remedy) => `Or: ${remedy.text}`);
}

/** The nearest published cuts, each with its citation: evidence beside a prediction. */
export function publishedHints(published: NearestCuts | null): string[] {
  return publishedCuts(published).map(citedSentence);
}

/** The same as data: the one that parted in front. */
export function publishedCuts(published: NearestCuts | null) {
  return [published?.parted, published?.notParted].flatMap((cut) => cut ?? []);
}
