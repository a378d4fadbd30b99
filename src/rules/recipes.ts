import type { CutFact } from '../facts/cuts/cut-fact.ts';
import type { JobFacts } from '../facts/facts.ts';
import type { ProposalFact } from '../facts/recipes/recipe-fact.ts';
import type { ReportDescriptor } from '../findings/report-descriptor.ts';
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
