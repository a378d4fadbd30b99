import type { Machine } from '../../job/model.ts';
import { formatCount } from '../../units/format.ts';
import { quoted } from '../../units/quoted.ts';
import type { CutFact } from '../cuts/cut-fact.ts';
import { whyNeverCut } from '../cuts/predictor-of-job.ts';
import type { Questioned } from '../facts.ts';
import { PARTS, type Unanswered } from './unanswered.ts';

/** Tasks that a text names. */
const MOST_NAMED = 3;

/** Cuts that are meant to part the sheet, or may be, and of which nobody can say whether they do. */
export function ofCuts(facts: Questioned): Unanswered[] {
  return [...withoutPrediction(facts), ...unclaimed(facts)];
}

/** Through cuts without a prediction, those of one reason together. What has no settings yet is judged by reach. */
function withoutPrediction(facts: Questioned): Unanswered[] {
  const { machine, material, thicknessMm, toolpath } = facts;
  // Where one of these is missing it is named itself; and that a source never cuts a material is an answer.
  if (!machine || !material || thicknessMm === null || whyNeverCut(machine, material) !== null) return [];
  if (facts.scaleDoubt !== null) return [];
  const judged = new Set(facts.proposals.flatMap(({ cuts }) => cuts));
  const open = new Map<string, CutFact[]>();
  for (const cut of facts.cuts) {
    const runs = toolpath === null || (facts.tasks[cut.taskIndex]?.strokes.length ?? 0) > 0;
    if (cut.aim !== 'through' || cut.prediction !== null || !runs || judged.has(cut)) continue;
    const reason = cut.notPredicted ?? 'it was not computed';
    // Given up for its work: that is told of the search for passes.
    if (facts.cutsEndedEarly?.includes(reason)) continue;
    const same = open.get(reason);
    if (same) same.push(cut);
    else open.set(reason, [cut]);
  }
  return [...open].map(([reason, cuts]) => ({
    fact: facts.lens === null ? 'lens' : 'prediction',
    what: PARTS,
    missing: `there is no prediction for ${tasksOf(cuts)}: ${reason}`,
    remedy: remedyOf(facts, machine, cuts[0]!),
  }));
}

function remedyOf({ lens }: Questioned, machine: Machine, { settingLocation }: CutFact): string {
  if (lens === null) return `Name a lens that ${machine.id} has: ${machine.lenses.map(({ id }) => id).join(', ')}.`;
  return `Put right the settings at line ${settingLocation.line} of ${settingLocation.file}, or the entry of the machine or material that the reason names.`;
}

function tasksOf(cuts: readonly CutFact[]): string {
  const names = [...new Set(cuts.map(({ task }) => task))];
  const shown = names.slice(0, MOST_NAMED).map(quoted).join(', ');
  const more = names.length > MOST_NAMED ? ` and ${names.length - MOST_NAMED} more` : '';
  return `task${names.length === 1 ? '' : 's'} ${shown}${more}`;
}

/** Powered strokes of no task that are not sure to part the sheet: a line that somebody wants, or a cut that falls short? */
function unclaimed({ unclaimed: { open } }: Questioned): Unanswered[] {
  if (open === null) return [];
  const { strokes, location } = open;
  return [
    {
      fact: 'task',
      what: 'what these strokes are for',
      missing: `${formatCount(strokes, 'stroke')}, line ${location.line} and on, ${strokes === 1 ? 'belongs' : 'belong'} to no task: only a line, or through?`,
      remedy:
        'Add a task that selects them by `program` and states its aim (through, groove or surface), or take them out of the toolpath.',
    },
  ];
}
