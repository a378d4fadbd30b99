import { done, type Outcome, refused } from '../../facts/bench/set-up.ts';
import { powerFact, weakestPlace } from '../../facts/cuts/power.ts';
import { type ResolvedJob, resolveJob } from '../../facts/input/resolve.ts';
import { NOTHING_STATED } from '../../facts/recipes/best-recipe.ts';
import { type RecipeRequest, recipeAnswer } from '../../facts/recipes/recipe-answer.ts';
import { isFound, type RecipeAnswer, type RecipeFound } from '../../facts/recipes/recipe-answer-model.ts';
import { statedBy } from '../../facts/recipes/stated.ts';
import type { FoundJob } from '../../job/files/job-opener.ts';
import type { Library } from '../../job/files/library.ts';
import type { Lens, Machine, Material, Task, Thickness } from '../../job/model.ts';
import { formatMm } from '../../units/format.ts';
import { inARow } from '../../units/in-a-row.ts';
import { quoted } from '../../units/quoted.ts';

export { isFound, type RecipeAnswer, type RecipeFound };

/** A sheet that is asked about by itself. */
export interface SheetAsked {
  machine: Machine;
  /** Null: any of the machine's. */
  lens: Lens | null;
  material: Material;
  thickness: Thickness;
}

/** The recipe for a sheet, wherever on the bed it lies. */
export function recipeForSheet({ machine, lens, material, thickness }: SheetAsked): Outcome<RecipeAnswer> {
  const lenses = lens === null ? machine.lenses : [lens];
  const at = weakestPlace(machine);
  return recipeAnswer({ machine, lenses, material, thickness, bowMm: 0, stated: NOTHING_STATED, at });
}

/** A task of a sidecar, and what its plan and its job have fixed. */
export interface TaskAsked {
  readonly index: number;
  readonly request: RecipeRequest;
}

/** What is said besides the job, for what its sidecar leaves out. */
export type Given = { [K in keyof SheetAsked]: SheetAsked[K] | null };

/**
 * What a recipe for one task of a job has to keep to; a problem where the job does not say enough, or something else than what is said
 * besides.
 */
export function taskAsked(job: FoundJob, library: Library, name: string | null, given: Given): Outcome<TaskAsked> {
  const sidecar = job.sidecar?.value ?? null;
  const task = chosenTask(sidecar?.tasks ?? [], name);
  if (task.value === null) return task;
  const sheet = sheetOf(resolveJob(job, library, { untrusted: false }), given);
  if (sheet.value === null) return sheet;
  const { machine, lens, material, thickness } = sheet.value;
  return done({
    index: sidecar!.tasks.indexOf(task.value),
    request: {
      machine,
      // The lens is the sidecar's and not the task's to choose.
      lenses: [lens],
      material,
      thickness,
      bowMm: sidecar!.bowMm ?? 0,
      stated: statedBy(task.value, powerFact(machine)?.fullW ?? 0),
      at: weakestPlace(machine),
    },
  });
}

function chosenTask(tasks: readonly Task[], name: string | null): Outcome<Task> {
  const through = tasks.filter(({ aim }) => aim === 'through');
  const all = inARow(
    tasks.map((task) => quoted(task.name)),
    'and',
  );
  const names = tasks.length === 0 ? 'it has none' : `it has ${all}`;
  const task = name === null ? (through.length === 1 ? through[0] : undefined) : tasks.find((one) => one.name === name);
  if (task === undefined) {
    return refused(name === null ? `name one of its tasks; ${names}` : `no task is called ${quoted(name)}; ${names}`);
  }
  if (task.aim === 'through') return done(task);
  return refused(`task ${quoted(task.name)} is a ${task.aim}: recipes are for cuts that part the sheet`);
}

/** What the job says, or what is said besides where it says nothing. */
function sheetOf(resolved: ResolvedJob, given: Given): Outcome<SheetAsked & { lens: Lens }> {
  const machine = resolved.machine ?? given.machine;
  const material = resolved.material ?? given.material;
  const thickness = resolved.thickness ?? given.thickness;
  if (machine === null) return refused('its machine is not known');
  if (material === null) return refused('its material is not known');
  if (thickness === null) return refused('its thickness is not stated');
  const lens = lensOf(machine, resolved);
  if (lens === null) return refused(`${machine.id} has no lens ${quoted(resolved.lens)}`);
  const other = otherThan({ machine, lens, material, thickness }, given);
  if (other === null) return done({ machine, lens, material, thickness });
  return refused(
    `${other}${other.includes('lens') && resolved.lens === null ? ", the machine's first, as it names none" : ''}`,
  );
}

/** The first thing in which a job differs from what is said besides; null where it agrees. */
function otherThan(job: SheetAsked & { lens: Lens }, given: Given): string | null {
  if (given.machine && given.machine.id !== job.machine.id) return `its machine is ${job.machine.id}`;
  if (given.material && given.material.id !== job.material.id) return `its material is ${job.material.id}`;
  if (given.thickness && given.thickness.mm !== job.thickness.mm) {
    return `its thickness is ${formatMm(job.thickness.mm)}`;
  }
  return given.lens && given.lens.id !== job.lens.id ? `its lens is ${job.lens.id}` : null;
}

function lensOf({ lenses }: Machine, { lens }: ResolvedJob): Lens | null {
  return (lens === null ? lenses[0] : lenses.find(({ id }) => id === lens)) ?? null;
}

/** The recipe for a task, within what its plan and its job have fixed. */
export const recipeForTask = ({ request }: TaskAsked): Outcome<RecipeAnswer> => recipeAnswer(request);
