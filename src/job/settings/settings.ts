import type { Source } from '../../source/source.ts';
import type { Unchecked } from '../files/left-out.ts';
import { pathProblem } from '../files/paths.ts';
import type { Loaded } from '../files/problem.ts';
import type { Money, PlaceOf } from '../model.ts';
import { load } from '../yaml/check.ts';
import { type ReplySettings, replyProblems, replySettings } from './reply-settings.ts';
import { settingsSchema } from './settings-schema.ts';

const LIMIT_BYTES = 256 * 1024;

/** What `.kerflint.yaml` says. */
export interface Settings {
  file: string;
  /** Folders relative to the file; empty when none are named. */
  machines: string[];
  materials: string[];
  /** Patterns for paths that are not checked. */
  exclude: string[];
  /** Severity and options by rule id, as written; which rules and options there are is for the rules to judge. */
  rules: RuleSetting[];
  /** Whether a run is incomplete for toolpaths or artwork left unjudged; what is not said is left to the defaults. */
  unchecked: Partial<Unchecked>;
  budget: Money | null;
  reply: ReplySettings;
  placeOf: PlaceOf;
}

/** What the settings say of one rule. */
export interface RuleSetting {
  id: string;
  severity: 'off' | 'error' | 'warning' | 'note' | null;
  options: Record<string, string | number | boolean>;
}

function ruleSetting(id: string, said: string | Record<string, string | number | boolean>): RuleSetting {
  if (typeof said === 'string') return { id, severity: said as RuleSetting['severity'], options: {} };
  const { severity, ...options } = said;
  return { id, severity: (severity as RuleSetting['severity']) ?? null, options };
}

function uncheckedOf(said: { [Kind in keyof Unchecked]?: Unchecked[Kind] | undefined } = {}): Partial<Unchecked> {
  return {
    ...(said.toolpath === undefined ? {} : { toolpath: said.toolpath }),
    ...(said.artwork === undefined ? {} : { artwork: said.artwork }),
  };
}

/** Reads a `.kerflint.yaml`. Problems carry their place; the value is null when there are any. */
export function readSettings(source: Source): Loaded<Settings> {
  return load(source, settingsSchema, LIMIT_BYTES, (said, placeOf, report) => {
    for (const key of ['machines', 'materials'] as const) {
      for (const [index, folder] of (said[key] ?? []).entries()) {
        const problem = pathProblem(folder);
        if (problem) report([key, index], `${key}: ${problem}`, 'outside-root');
      }
    }
    for (const { path, text } of replyProblems(said.reply)) report(['reply', ...path], text);
    return {
      file: source.name,
      machines: said.machines ?? [],
      materials: said.materials ?? [],
      exclude: said.exclude ?? [],
      rules: Object.entries(said.rules ?? {}).map(([id, rule]) => ruleSetting(id, rule)),
      unchecked: uncheckedOf(said.unchecked),
      budget: said.budget ?? null,
      reply: replySettings(said.reply),
      placeOf,
    };
  });
}
