import { type Document, isMap, isScalar, isSeq, parseDocument, type YAMLMap } from 'yaml';
import { done, type Outcome, refused } from '../../facts/bench/set-up.ts';
import type { RecipeFound } from '../../facts/recipes/recipe-answer-model.ts';
import { trimmed } from '../../units/format.ts';
import { writtenMm, writtenPercent, writtenSpeed } from '../../units/written.ts';

/** A sidecar's text with a task's empty keys filled in, and which they were, in the order in which they stand there. */
export interface FilledTask {
  readonly text: string;
  readonly keys: readonly string[];
}

/**
 * Writes a recipe into the keys of one task that are missing or left empty. What stands there stays, comments and all other tasks too.
 * @param text a sidecar that was read without a problem.
 * @param index of the task in it.
 */
export function filledTask(text: string, index: number, answer: RecipeFound): Outcome<FilledTask> {
  const document = parseDocument(text);
  const task = taskAt(document, index);
  if (document.errors.length > 0 || task === null) return refused('the task is not written out in the sidecar itself');
  const before = plain(document);
  const keys: string[] = [];
  for (const [key, value] of settingsOf(answer)) if (fill(document, task, key, value)) keys.push(key);
  const written = document.toString({ lineWidth: 0, nullStr: '', indentSeq: !/^tasks:.*\r?\n- /m.test(text) });
  const whole = /\r\n/.test(text) ? written.replace(/\r?\n/g, '\r\n') : written;
  // A file that says anything else than before, in another place, is not written.
  return onlyAdded(before, plain(parseDocument(whole)), index, keys)
    ? done({ text: whole, keys })
    : refused('the sidecar is written in a way that would not survive a change by a program');
}

function settingsOf({ recipe, airBar }: RecipeFound): [key: string, value: string | number][] {
  return [
    ['power', writtenPercent(recipe.setting)],
    ['speed', writtenSpeed(recipe.speedMmPerS)],
    ['passes', recipe.passes],
    ['focus', writtenMm(recipe.focusMm)],
    ...(recipe.focusStepMm === 0 ? [] : [['focus-step', writtenMm(recipe.focusStepMm)] as [string, string]]),
    ...(airBar === null ? [] : [['air', `${trimmed(airBar, 2)} bar`] as [string, string]]),
  ];
}

function taskAt(document: Document, index: number): YAMLMap | null {
  const tasks = document.get('tasks', true);
  const task = isSeq(tasks) ? tasks.items[index] : null;
  return isMap(task) ? task : null;
}

/** Whether the key was empty and is filled now. */
function fill(document: Document, task: YAMLMap, key: string, value: string | number): boolean {
  const there = task.get(key, true);
  if (!task.has(key)) {
    task.set(key, document.createNode(value));
    return true;
  }
  if (!isScalar(there) || there.value !== null) return false;
  // The node stays, and with it the remark behind it.
  there.value = value;
  delete there.source;
  return true;
}

const plain = (document: Document): unknown => document.toJS({ maxAliasCount: 0 });

function onlyAdded(before: unknown, after: unknown, index: number, keys: readonly string[]): boolean {
  const without = (said: unknown): string => {
    const { tasks, ...rest } = said as { tasks: Record<string, unknown>[] };
    const others = tasks.map((task, i) =>
      Object.fromEntries(Object.entries(task).filter(([key]) => i !== index || !keys.includes(key))),
    );
    return JSON.stringify([rest, others]);
  };
  return without(before) === without(after);
}
