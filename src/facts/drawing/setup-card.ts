import type { CureFact } from '../cure/cure-fact.ts';
import type { CutFact, PassFact } from '../cuts/cut-fact.ts';
import { leastSure } from '../cuts/least-sure.ts';
import type { JobFacts } from '../facts.ts';
import type { Recipe } from '../recipes/recipe-fact.ts';
import type { TaskFact } from '../tasks/task-fact.ts';
import type { CardRecipe, CardSettings, ProposedSettings, SetupCard } from './drawing-model.ts';

/** So many recipes stand on a card: it is one page. */
const MOST_RECIPES = 10;

/** What stands in no file and may be shown. */
interface Proposed {
  /** The change that brings the cuts through; null where none is shown. */
  readonly cure: CureFact | null;
  /** Whether settings may be proposed for cuts that have none. */
  readonly proposes: boolean;
}

/** What the person at the machine sets before the job, from plan and toolpath, and what would be set with the change. */
export function setupCard(facts: JobFacts, proposed: Proposed): SetupCard {
  const { machine, lens, material, input } = facts;
  const sidecar = input.sidecar;
  const watched = leastSure(facts.cuts);
  const recipes = recipesOf(facts, proposed);
  return {
    machine: machine?.id ?? null,
    lens: lens?.id ?? null,
    standoffMm: lens?.standoffMm ?? null,
    recipes: recipes.slice(0, MOST_RECIPES),
    moreRecipes: Math.max(0, recipes.length - MOST_RECIPES),
    material: material?.name ?? facts.materialName,
    thicknessMm: facts.thicknessMm,
    face: sidecar?.face ?? null,
    mirror: sidecar?.mirror ?? null,
    bowMm: sidecar?.bowMm ?? null,
    zero: sidecar?.zero ?? null,
    sheet: sidecar?.sheet ? { widthMm: sidecar.sheet.widthMm, heightMm: sidecar.sheet.heightMm } : null,
    hazard: material ? { class: material.hazard.class, reason: material.hazard.reason } : null,
    watch: watched && {
      task: watched.task,
      probability: watched.prediction!.throughProbability,
      line: watched.location.line,
      file: watched.location.file,
    },
  };
}

/** A row for each recipe of each task that has cuts, and for each task without one that plans something. */
function recipesOf(facts: JobFacts, { cure, proposes }: Proposed): CardRecipe[] {
  const cured = new Map(
    cure?.cuts.map(({ index, cut }) => [index, proposedBy(facts, settingsOf(cut.passes), cure.lens)]),
  );
  return facts.tasks.flatMap((task, taskIndex) => {
    const rows = new Map<string, CardRecipe>();
    for (const [index, cut] of facts.cuts.entries()) {
      if (cut.taskIndex !== taskIndex) continue;
      const row = recipeOf(task, cut, cured.get(index) ?? (proposes ? proposedFor(facts, cut) : null));
      const key = JSON.stringify([
        row.stated && { ...row.stated, powerW: null },
        row.proposed && { ...row.proposed, powerW: null },
      ]);
      if (!rows.has(key)) rows.set(key, row);
    }
    if (rows.size > 0 || !task.planned) return [...rows.values()];
    const { file, line } = task.location;
    return [{ ...named(task), file, line, stated: plannedSettings(task), proposed: null }];
  });
}

const named = ({ name, aim, planned }: TaskFact) => ({ task: name, aim, airBar: planned?.airBar ?? null });

function recipeOf(task: TaskFact, cut: CutFact, proposed: ProposedSettings | null): CardRecipe {
  const { file, line } = cut.location;
  return {
    ...named(task),
    file,
    line,
    stated: settingsOf(cut.passes) ?? plannedSettings(task),
    proposed,
  };
}

/** What is proposed for a cut of artwork that has no settings. */
function proposedFor(facts: JobFacts, cut: CutFact): ProposedSettings | null {
  const proposal = facts.proposals.find(({ cuts }) => cuts.includes(cut))?.proposed;
  return proposal ? proposedBy(facts, settingsOfRecipe(proposal), proposal.lens) : null;
}

function settingsOf(passes: readonly PassFact[]): CardSettings | null {
  const [first, second] = passes;
  return first
    ? {
        setting: first.setting,
        powerW: first.powerW,
        speedMmPerS: Number.isFinite(first.programmedMmPerS) ? first.programmedMmPerS : null,
        passes: passes.length,
        focusMm: first.focusMm,
        focusStepMm: second ? second.focusMm - first.focusMm : 0,
      }
    : null;
}

function plannedSettings({ planned }: TaskFact): CardSettings | null {
  if (!planned || (planned.power === null && planned.speedMmPerS === null)) return null;
  const { power, speedMmPerS, passes, focusMm, focusStepMm } = planned;
  return {
    setting: power && 'fraction' in power ? power.fraction : null,
    powerW: power && 'watts' in power ? power.watts : null,
    speedMmPerS,
    passes: passes ?? 1,
    focusMm,
    focusStepMm,
  };
}

function settingsOfRecipe({ lens: _lens, throughProbability: _chance, ...settings }: Recipe): CardSettings {
  return settings;
}

/** Settings under a lens, which is named where it is not the job's. */
function proposedBy({ machine, lens }: JobFacts, settings: CardSettings | null, id: string): ProposedSettings | null {
  const other = id === lens?.id ? undefined : machine?.lenses.find((one) => one.id === id);
  return settings && { ...settings, otherLens: other ? { id, standoffMm: other.standoffMm } : null };
}
