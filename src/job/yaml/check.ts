import * as v from 'valibot';
import type { Source } from '../../source/source.ts';
import { nearestWord } from '../../units/nearest-word.ts';
import { quoted } from '../../units/quoted.ts';
import { type FileProblem, fileProblem, type Loaded } from '../files/problem.ts';
import type { PlaceOf } from '../model.ts';
import { readYaml } from './yaml-file.ts';

/** More problems than a person mends in one go; the rest are counted in the last one's `more`. */
const MOST_PROBLEMS = 50;

type Path = (string | number)[];
type Schema = v.GenericSchema;
export type Report = (path: Path, text: string, code?: FileProblem['code']) => void;

/**
 * Reads a YAML file, checks it against a schema, and turns what it says into the model. `toModel` may report what a schema
 * cannot say (two fields that contradict each other); the value then is null.
 */
export function load<S extends Schema, T>(
  source: Source,
  schema: S,
  limitBytes: number,
  toModel: (said: v.InferOutput<S>, placeOf: PlaceOf, report: Report) => T,
): Loaded<T> {
  const yaml = readYaml(source, limitBytes);
  const { file, placeOf } = yaml;
  if (yaml.problems.length > 0) return { file, value: null, problems: bounded(yaml.problems), placeOf };
  const result = v.safeParse(schema, yaml.tree);
  if (!result.success) {
    // A list where keys belong answers to the names of its own methods ("at"): whatever else is said about it is noise.
    const lists = new Set(result.issues.filter(isListForKeys).map((issue) => issue.path?.at(-1)?.input));
    const all = result.issues.filter(
      (issue) => isListForKeys(issue) || !issue.path?.some((item) => lists.has(item.input)),
    );
    const told = all.slice(0, 2 * MOST_PROBLEMS);
    const problems = once(told.flatMap((issue) => explain(issue, [], schema, placeOf)));
    return { file, value: null, problems: bounded(problems, all.length - told.length), placeOf };
  }
  const problems: FileProblem[] = [];
  const value = toModel(result.output, placeOf, (path, text, code = 'wrong-value') => {
    problems.push(fileProblem(code, placeOf(path), text));
  });
  return { file, value: problems.length > 0 ? null : value, problems: bounded(problems), placeOf };
}

function once(problems: FileProblem[]): FileProblem[] {
  const seen = new Set<string>();
  return problems.filter(({ place, args }) => {
    const mark = `${place.line}:${place.column} ${args.text}`;
    return seen.size < seen.add(mark).size;
  });
}

function bounded(problems: FileProblem[], untold = 0): FileProblem[] {
  const more = Math.max(0, problems.length - MOST_PROBLEMS) + untold;
  const kept = problems.slice(0, MOST_PROBLEMS);
  const last = kept.at(-1);
  if (more === 0 || !last) return kept;
  kept[kept.length - 1] = { ...last, more };
  return kept;
}

function explain(issue: v.BaseIssue<unknown>, above: Path, root: Schema, placeOf: PlaceOf): FileProblem[] {
  const path = [...above, ...(issue.path ?? []).map((item) => item.key as string | number)];
  const name = path.length === 0 ? '' : pathText(path);
  const nested = issue.issues?.filter((inner) => inner.path !== undefined);
  if (issue.type === 'union' && nested && nested.length > 0 && typeof issue.input === 'object') {
    return nested.flatMap((inner) => explain(inner, path, root, placeOf));
  }
  if (isListForKeys(issue)) {
    return [fileProblem('wrong-value', placeOf(path.slice(0, -1)), 'a list stands where keys with values belong')];
  }
  const atKey = issue.path?.at(-1)?.origin === 'key';
  if (issue.type === 'strict_object' && atKey && issue.expected === 'never') {
    return unknownKeys(issue.path?.at(-1)?.input, path.slice(0, -1), root, placeOf);
  }
  if (issue.received === 'undefined') {
    return [fileProblem('missing-key', placeOf(path), `${name} is missing${usualAt(root, path)}`)];
  }
  const own = !issue.message.startsWith('Invalid ');
  const text = own ? issue.message : plainText(issue);
  return [fileProblem('wrong-value', placeOf(path, atKey ? 'key' : 'value'), name === '' ? text : `${name}: ${text}`)];
}

function isListForKeys(issue: v.BaseIssue<unknown>): boolean {
  return issue.type === 'strict_object' && issue.expected !== 'Object' && Array.isArray(issue.path?.at(-1)?.input);
}

/** All keys of an object that its schema does not know; the checking library stops at the first. */
function unknownKeys(object: unknown, path: Path, root: Schema, placeOf: PlaceOf): FileProblem[] {
  const known = keysAt(root, path);
  const where = path.length > 0 ? ` in ${pathText(path)}` : '';
  return Object.keys(object as object)
    .filter((key) => !known.includes(key))
    .map((key) => {
      const near = nearestWord(key, known);
      const advice = near !== undefined ? `did you mean ${near}?` : `known are ${known.join(', ')}`;
      const text = `the key ${quoted(key)} is not known${where}: ${advice}`;
      return fileProblem('unknown-key', placeOf([...path, key], 'key'), text);
    });
}

/** What usually stands at a path, to go behind a sentence; empty where the schema has no example. */
function usualAt(root: Schema, path: Path): string {
  for (const schema of schemasAt(root, path)) {
    const [example] = v.getExamples(schema) as readonly unknown[];
    if (example !== undefined) return ` (such as ${example})`;
    const [choice] = shapes(schema) as unknown as { type: string; options?: string[] }[];
    if (choice?.type === 'picklist' && choice.options) return ` (${choice.options.join(', ')})`;
  }
  return '';
}

/** The keys that a schema knows at a path; of a choice, those of all its shapes. */
function keysAt(schema: Schema, path: Path): string[] {
  const objects = schemasAt(schema, path).flatMap(shapes) as unknown as { entries?: object }[];
  return [...new Set(objects.flatMap((one) => Object.keys(one.entries ?? {})))];
}

/** The schemas that hold at a path; of a choice, one for each of its shapes that knows the path. */
function schemasAt(schema: Schema, path: Path): Schema[] {
  let here: Schema[] = [schema];
  for (const step of ['', ...path]) {
    const next: Schema[] = [];
    for (const one of here.flatMap(shapes)) {
      const parts = one as unknown as { entries?: Record<string, Schema>; item?: Schema; value?: Schema };
      if (step === '') next.push(one);
      else if (parts.entries?.[step]) next.push(parts.entries[step]);
      else if (typeof step === 'number' && parts.item) next.push(parts.item);
    }
    here = next;
  }
  return here;
}

function shapes(schema: Schema): Schema[] {
  const { wrapped, options, pipe } = schema as unknown as { wrapped?: Schema; options?: unknown[]; pipe?: Schema[] };
  if (pipe?.[0] && pipe[0] !== schema) return shapes(pipe[0]);
  if (wrapped) return shapes(wrapped);
  const choices = (options ?? []).filter((one): one is Schema => typeof one === 'object' && one !== null);
  return choices.length > 0 ? choices.flatMap(shapes) : [schema];
}

const ONE_OF: Record<string, string> = {
  tasks: 'task',
  lenses: 'lens',
  coupons: 'coupon',
  ramps: 'ramp',
  waive: 'waiver',
};

/** `tasks[0].speed`, counted from one as people count: `task 1, speed`. */
function pathText(path: Path): string {
  let text = '';
  for (const step of path) {
    if (typeof step === 'number') text = `${ONE_OF[text] ?? text} ${step + 1}`;
    else text = text === '' ? step : `${text}, ${step}`;
  }
  return text;
}

function plainText(issue: v.BaseIssue<unknown>): string {
  const { input } = issue;
  if (input === null) return 'there is no value: write one, or leave the key out';
  switch (issue.type) {
    case 'picklist': {
      const allowed = optionsOf(issue.expected);
      const near = typeof input === 'string' ? nearestWord(input, allowed) : undefined;
      return `${quoted(input)} is not one of ${allowed.join(', ')}${near ? `: did you mean ${near}?` : ''}`;
    }
    case 'string':
      return typeof input === 'object'
        ? 'a text belongs here'
        : `${quoted(input)} is not read as text: put it in quotes`;
    case 'number':
      return `${quoted(input)} is not a plain number`;
    case 'boolean':
      return `${quoted(input)} is neither true nor false`;
    case 'array':
      return 'a list belongs here (lines that begin with "- ", or [ … ])';
    case 'strict_object':
    case 'record':
      return 'keys with values belong here (one on each line, or { … })';
    default:
      return `${quoted(input)} does not belong here`;
  }
}

function optionsOf(expected: string | null): string[] {
  return [...(expected ?? '').matchAll(/"([^"]*)"/g)].map((match) => match[1]!);
}
