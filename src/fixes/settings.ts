import type { CutFact, RemedyFact } from '../facts/cuts/cut-fact.ts';
import type { TaskFact } from '../facts/tasks/task-fact.ts';
import type { NewSettings } from '../model/editing.ts';
import type { Strokes } from '../model/strokes.ts';
import type { Toolpath } from '../model/toolpath.ts';
import { onLineOf } from './candidates.ts';
import { type Candidate, type FixContext, type Mirrored, nothing, type Proposal, proposalOf } from './fix.ts';
import { linesOfPath, pathsOf, type StrokePath, strokesOfPath } from './paths.ts';
import { mirroredSettings } from './sidecar-mirror.ts';

/** A focus that differs by less is the same, mm. */
const SAME_FOCUS_MM = 0.05;
/** So many strokes of a task are changed. */
const MOST_STROKES = 200_000;

interface SettingsCandidate extends Candidate {
  stretches: NewSettings[];
  /** Strokes that change. */
  strokes: number[];
  remedy: RemedyFact;
  /** The paths that are run again. */
  again: StrokePath[];
  mirrored: Mirrored[];
}

/** Gives cuts that fall short the settings of their remedy: the speed first, then power, then passes. */
export function settings(context: FixContext): Proposal {
  const { facts, toolpath } = context;
  const { strokes } = toolpath;
  const declined: Proposal['declined'][number][] = [];
  const candidates: SettingsCandidate[] = [];
  for (const task of facts.tasks) {
    const short = facts.cuts.filter((cut) => facts.tasks[cut.taskIndex] === task && fallsShort(cut));
    const [worst] = short.sort((a, b) => chanceOf(a) - chanceOf(b));
    if (worst === undefined) continue;
    const what = `Settings of task “${task.name}”`;
    const made = candidateFor(context, task, worst);
    if (typeof made === 'string') declined.push({ what, location: worst.location, why: made });
    else candidates.push(made);
  }
  if (candidates.length === 0) return nothing(declined);
  return proposalOf(candidates, declined, (chosen, editor) => ({
    edited: editor.withSettings(chosen.flatMap((one) => one.stretches)),
    expected: { order: withRepeats(strokes, chosen), settings: settingsOf(chosen) },
    mirrored: chosen.flatMap((one) => one.mirrored),
  }));
}

function fallsShort({ aim, prediction }: CutFact): boolean {
  return aim === 'through' && prediction !== null && prediction.throughProbability < prediction.limit;
}

const chanceOf = (cut: CutFact): number => cut.prediction?.throughProbability ?? 1;

/** What is changed for a task, by the remedy of its worst cut; or why nothing is. */
function candidateFor(context: FixContext, task: TaskFact, worst: CutFact): SettingsCandidate | string {
  const { facts, toolpath } = context;
  const { strokes } = toolpath;
  const hazard = facts.material?.hazard.class;
  if (hazard === 'never' || hazard === 'reconsider')
    return `nothing is made more likely to cut ${facts.material?.name}, whose hazard class is “${hazard}”`;
  const remedy = mechanical(worst);
  if (typeof remedy === 'string') return remedy;
  const { program } = task.planned ?? { program: null };
  if (program?.feedMmPerS !== undefined && remedy.speedMmPerS !== null)
    return 'the task finds its strokes by their feed, and would lose them';
  if (program?.power !== undefined && remedy.setting !== null)
    return 'the task finds its strokes by their power, and would lose them';
  const [first] = worst.passes;
  const chosen = [...task.strokes].filter((i) => runsAs(strokes, i, first!));
  if (chosen.length > MOST_STROKES) return `it has more than ${MOST_STROKES} strokes`;
  const times = remedy.passes ?? 1;
  const paths = pathsOf(strokes, chosen);
  if (times > 1) {
    const why = whyNotAgain(toolpath, worst, paths);
    if (why !== null) return why;
  }
  const spans = times > 1 ? paths : stretchesOf(toolpath, chosen);
  const { speedMmPerS, setting } = remedy;
  return {
    what: `Task “${task.name}”: ${remedy.text.charAt(0).toLowerCase()}${remedy.text.slice(1)}`,
    location: onLineOf(context, strokes.line[chosen[0]!]!),
    stretches: spans.map((span) => ({ span: linesOfPath(strokes, span), speedMmPerS, setting, times })),
    strokes: chosen,
    remedy,
    again: times > 1 ? paths : [],
    mirrored: mirroredSettings(context, task, remedy),
  };
}

/** The remedy that can be written into the toolpath alone, by preference; else why there is none. */
function mechanical({ remedies, passes }: CutFact): RemedyFact | string {
  const of = (fits: (remedy: RemedyFact) => boolean) => remedies.find(fits);
  const found =
    of(({ kind, setting }) => kind === 'slower' && setting === null) ??
    of(({ kind }) => kind === 'more-power') ??
    of(({ kind }) => kind === 'slower') ??
    of(({ kind }) => kind === 'more-passes');
  if (found === undefined) {
    const [first] = remedies;
    return first === undefined
      ? 'no remedy was sought for it'
      : `its remedy is no change of speed, power or passes alone (${first.text})`;
  }
  if (found.kind !== 'more-passes') return found;
  if ((found.focusStepMm ?? 0) !== 0) return `its remedy lowers the focus from pass to pass (${found.text})`;
  const focus = passes[0]?.focusMm ?? 0;
  if (found.focusMm !== null && Math.abs(found.focusMm - focus) > SAME_FOCUS_MM)
    return `its remedy asks for another focus, which is set at the machine (${found.text})`;
  return found;
}

function whyNotAgain({ boundsMm }: Toolpath, worst: CutFact, paths: readonly StrokePath[]): string | null {
  if (worst.passCount > 1) return 'it is run more than once already';
  if (boundsMm !== null && (boundsMm.minZ !== 0 || boundsMm.maxZ !== 0))
    return 'the program moves Z, and further passes are written only where it does not';
  return paths.every(({ closed }) => closed)
    ? null
    : 'further passes are written only for lines that end where they begin';
}

function runsAs(strokes: Strokes, i: number, pass: CutFact['passes'][number]): boolean {
  const speed = strokes.speedMmPerS[i]!;
  return Math.abs(strokes.setting[i]! - pass.setting) < 1e-3 && Math.abs(speed - pass.programmedMmPerS) < 2e-3;
}

/** Strokes in a row, whatever travels lie between them, as long as no other stroke and no raster area does. */
function stretchesOf({ strokes, areas }: Toolpath, chosen: readonly number[]): Pick<StrokePath, 'first' | 'last'>[] {
  const found: { first: number; last: number }[] = [];
  const rasters = areas.map(({ place }) => place.line);
  for (const i of chosen) {
    const open = found.at(-1);
    const from = open === undefined ? 0 : strokes.line[open.last]!;
    const cutByArea = rasters.some((line) => line > from && line < strokes.line[i]!);
    if (open !== undefined && i === open.last + 1 && !cutByArea) open.last = i;
    else found.push({ first: i, last: i });
  }
  return found;
}

function withRepeats(strokes: Strokes, chosen: readonly SettingsCandidate[]): number[] {
  const again = new Map(
    chosen.flatMap(({ again: paths, remedy }) => paths.map((path) => [path.last, { path, times: remedy.passes ?? 1 }])),
  );
  const order: number[] = [];
  for (let i = 0; i < strokes.count; i++) {
    order.push(i);
    const repeat = again.get(i);
    for (let n = 1; n < (repeat?.times ?? 1); n++) order.push(...strokesOfPath(repeat!.path));
  }
  return order;
}

function settingsOf(chosen: readonly SettingsCandidate[]) {
  return new Map(
    chosen.flatMap(({ strokes, remedy: { speedMmPerS, setting } }) =>
      strokes.map((i) => [i, { speedMmPerS, setting }] as const),
    ),
  );
}
