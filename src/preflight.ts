import { buildFacts } from './facts/build.ts';
import type { JobFacts } from './facts/facts.ts';
import { resolveJob } from './facts/resolve.ts';
import { resultView, wasteView } from './facts/result-view.ts';
import type { Draft } from './findings/draft.ts';
import type { Finding, NotChecked } from './findings/finding.ts';
import { gatherLines, type LineLookup } from './findings/lines.ts';
import { sortFindings } from './findings/order.ts';
import { createDoor, DraftFault, locationsOf } from './findings/report.ts';
import type { JobResult, RunResult } from './findings/result.ts';
import { summarise, verdictOfJob, verdictOfRun } from './findings/verdict.ts';
import { waive } from './findings/waiving.ts';
import type { JobInput as FoundJob } from './job/discovery.ts';
import type { Library } from './job/library.ts';
import type { Settings } from './job/settings.ts';
import { RULES } from './rules/index.ts';
import type { OptionValues, Rule, RuleOption } from './rules/rule.ts';
import type { Source } from './source/source.ts';

/** What a run is about; everything in it is named and already opened, nothing is looked up elsewhere. */
export interface PreflightInput {
  jobs: readonly FoundJob[];
  library: Library;
  /** The trusted `.kerflint.yaml`, when there is one. */
  settings: Settings | null;
  options: {
    /** ISO date of the run. */
    today: string;
    untrusted: boolean;
    /** For bare files. */
    machine?: string;
    lens?: string;
    material?: string;
    /** As typed: `6 mm`, `nominal 6 mm`. */
    thickness?: string;
  };
  toolVersion: string;
  onProgress?: (file: string, bytes: number, size: number) => void;
}

/**
 * The whole street: jobs in, result out. Pure: the same input gives the same result. A job that fails inside kerflint
 * becomes incomplete and leaves the others alone.
 */
export function preflight(input: PreflightInput): RunResult {
  const inspector = new Inspector(input);
  const jobs = input.jobs.map((job) => inspector.inspect(job));
  return {
    schemaVersion: 1,
    tool: { name: 'kerflint', version: input.toolVersion },
    verdict: verdictOfRun(jobs),
    summary: summarise(jobs, []),
    jobs,
    notCheckedFiles: [],
  };
}

/** Judges job after job; holds what belongs to the run: fingerprints and rules that speak once. */
class Inspector {
  readonly #input: PreflightInput;
  readonly #said = new Set<string>();
  #lines: LineLookup = gatherLines(new Map(), []);
  readonly #door = createDoor({ lookUp: (location) => this.#lines.lookUp(location) });

  constructor(input: PreflightInput) {
    this.#input = input;
  }

  inspect(job: FoundJob): JobResult {
    const { library, options, settings } = this.#input;
    const resolved = resolveJob(job, library, options);
    const facts = buildFacts({
      ...resolved,
      budget: settings?.budget ?? null,
      today: options.today,
      ...(this.#input.onProgress ? { onProgress: this.#input.onProgress } : {}),
    });
    const { drafts, notChecked } = judge(facts, (rule) => this.#silent(rule));
    this.#lines = gatherLines(
      sourcesOf(job),
      drafts.flatMap(({ draft }) => locationsOf(draft)),
    );
    const findings: Finding[] = [];
    for (const { rule, draft } of drafts) {
      try {
        findings.push(this.#door.report(rule, draft));
        if (rule.oncePerRun) this.#said.add(rule.id);
      } catch (error) {
        if (!(error instanceof DraftFault)) throw error;
        notChecked.push({ rule: rule.id, kind: 'failed', reason: error.message });
      }
    }
    const waivers = options.untrusted ? [] : (job.sidecar?.value?.waivers ?? []);
    const judged = waive(sortFindings(findings), waivers, options.today, safetyRules);
    const incomplete = incompleteReasons(facts);
    return {
      ...resultView(facts),
      verdict: verdictOfJob({ findings: judged, notChecked, incomplete }),
      waste: wasteView(facts.waste, judged.some(stopsTheJob)),
      findings: judged,
      notChecked,
      incomplete,
    };
  }

  #silent(rule: Rule): boolean {
    return rule.oncePerRun === true && this.#said.has(rule.id);
  }
}

/** An error that is not about depth: then all that is at stake is expected to be lost. */
function stopsTheJob(finding: Finding): boolean {
  return finding.status === 'open' && finding.severity === 'error' && finding.rule !== 'cut/short-of-through';
}

const safetyRules = new Set(RULES.filter((rule) => rule.safety).map((rule) => rule.id));

/** Runs the rules over the facts. A rule that throws has failed and can never read as a pass. */
function judge(
  facts: JobFacts,
  silent: (rule: Rule) => boolean,
): { drafts: { rule: Rule; draft: Draft }[]; notChecked: NotChecked[] } {
  const drafts: { rule: Rule; draft: Draft }[] = [];
  const notChecked: NotChecked[] = [];
  for (const rule of RULES) {
    if (silent(rule)) continue;
    try {
      const answer = rule.check(facts, defaultsOf(rule));
      if ('notApplicable' in answer) {
        notChecked.push({ rule: rule.id, kind: 'not-applicable', reason: answer.notApplicable });
      } else for (const draft of answer) drafts.push({ rule, draft });
    } catch (error) {
      notChecked.push({
        rule: rule.id,
        kind: 'failed',
        reason: error instanceof Error ? error.message : String(error),
      });
    }
  }
  return { drafts, notChecked };
}

function defaultsOf(rule: Rule): OptionValues<Record<string, RuleOption>> {
  return Object.fromEntries(Object.entries(rule.options).map(([key, option]) => [key, option.default])) as OptionValues<
    Record<string, RuleOption>
  >;
}

/** Why this job cannot read as checked, besides rules that failed. */
function incompleteReasons(facts: JobFacts): string[] {
  const reasons = [...facts.incomplete];
  for (const { file, unreadable } of facts.inputProblems)
    if (unreadable) reasons.push(`a file named in ${file} cannot be read`);
  if (facts.materialUnknown) reasons.push('the material is unknown');
  else if (facts.material === null && facts.materialName !== null) reasons.push('the material is not known here');
  if (facts.toolpath && !facts.toolpath.analysed) reasons.push('beam or motion of the toolpath could not be analysed');
  if (facts.artwork && !facts.artwork.analysed) reasons.push('the artwork could not be read to its end');
  if (facts.input.files.toolpath && !facts.toolpath && facts.machine === null) {
    reasons.push('the toolpath was not analysed: the machine is not known');
  }
  return [...new Set(reasons)];
}

function sourcesOf(job: FoundJob): Map<string, Source> {
  const all = [job.sidecarSource, job.toolpath, job.artwork, ...job.beside];
  return new Map(all.flatMap((source) => (source ? [[source.name, source] as const] : [])));
}
