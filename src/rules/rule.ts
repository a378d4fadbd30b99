import type { JobFacts } from '../facts/facts.ts';
import type { Search } from '../facts/searches.ts';
import type { Severity } from '../findings/finding.ts';
import type { ReportDescriptor } from '../findings/report-descriptor.ts';

/** One option of a rule, with its default; schema, docs and types follow from it. */
export interface RuleOption {
  type: 'number' | 'boolean' | 'string';
  default: number | boolean | string;
  /** Where the settings do not state it, it is what they state of this option of another rule, so that two rules can share a limit. */
  follows?: { rule: string; option: string };
  unit?: string;
  minimum?: number;
  maximum?: number;
  description: string;
}

type Widened<T> = T extends number ? number : T extends boolean ? boolean : string;

/** The values of a rule's options in force; for a rule of which nothing more is known, any of the three types. */
export type OptionValues<O extends Record<string, RuleOption>> = { [K in keyof O]: Widened<O[K]['default']> };

/**
 * When a rule judges. `job`: the files and what is predicted of them. `waste`: once it is known which errors stand, since what is
 * expected to be lost rests on them. `waiver`: last, with what each waiver covers.
 */
export type Phase = 'job' | 'waste' | 'waiver';

/** A rule that has nothing to look at in this job says why. */
export interface NotApplicable {
  notApplicable: string;
}

/**
 * One rule, whole: what it judges, its messages, why it matters and how to put it right. Documentation page, `explain`,
 * SARIF metadata and the settings schema are generated from this object; nothing about a rule is kept anywhere else.
 */
export interface Rule<O extends Record<string, RuleOption> = Record<string, RuleOption>> {
  /** `area/what-is-wrong`; never reused. */
  id: string;
  /** One sentence. */
  summary: string;
  severity: Severity;
  /** Version in which it came. */
  since: string;
  reads: readonly ('sidecar' | 'toolpath' | 'artwork' | 'machine' | 'material' | 'prediction')[];
  /**
   * Searches that the answer rests on. Where one ended before it had looked at everything, the rule is listed as not checked
   * to the end, with the reason, beside what it found.
   */
  searches?: readonly Search[];
  /**
   * What hangs on the answer: whether the sheet parts as planned, or whether someone can get hurt. The verdict is then
   * incomplete where a search of the rule ended early, even where the rule is switched off.
   */
  decides?: 'through' | 'hazard';
  /** Cannot be waived inline; only in the sidecar with a reason and a date. */
  safety?: boolean;
  /** Reported once a run, not once a job. */
  oncePerRun?: boolean;
  /** When it judges; left out: `job`. */
  phase?: Phase;
  /** An error of this rule is counted in the waste by the cuts' probability; any other error that stands loses all that is at stake. */
  lossByProbability?: boolean;
  /**
   * Templates by id, with `{name}` for arguments: a sentence on what is wrong, with value and unit; what to do; then the limit, where it
   * comes from, and the cause. Names of the rule's options and keys of profiles are left to its page.
   */
  messages: Record<string, string>;
  /**
   * Messages about what whoever sent the job can put right, each with the arguments that the answer to them may repeat: numbers and
   * what stands in their file, nothing of the machine and no words of ours. The sentences are in src/report/reply/languages.
   */
  forCustomers?: Readonly<Record<string, readonly string[]>>;
  /** One message as a person reads it; tests hold it against what the rule says. */
  example: string;
  options: O;
  /** Paragraphs of plain text / Markdown. */
  why: string;
  remedy: string;
  /** Where limits and claims come from; "common practice, no source" where that is so. */
  sources: readonly string[];
  /** Shown with the usual caution on fumes, fire and beams. */
  caution?: string;
  check(facts: JobFacts, options: OptionValues<O>): Iterable<ReportDescriptor> | NotApplicable;
}

/** Keeps the option types of a rule while giving it the common type. */
export function defineRule<const O extends Record<string, RuleOption>>(rule: Rule<O>): Rule<O> {
  return rule;
}
