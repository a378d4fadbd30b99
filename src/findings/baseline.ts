import type { Finding } from './finding.ts';
import type { JobResult } from './result.ts';

/** How many findings of each rule a file had when the baseline was written: counts survive shifting lines. */
export type Baseline = ReadonlyMap<string, ReadonlyMap<string, number>>;

const VERSION = 1;

/** A baseline from its text, or a sentence that says what is wrong with it. */
export function readBaseline(text: string): { ok: true; value: Baseline } | { ok: false; problem: string } {
  const wrong = (problem: string) => ({ ok: false, problem }) as const;
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch {
    return wrong('it is not JSON');
  }
  if (!isObject(data) || data['kerflint'] !== VERSION || !isObject(data['findings'])) {
    return wrong(`it is no baseline (an object with "kerflint": ${VERSION} and "findings")`);
  }
  const baseline = new Map<string, Map<string, number>>();
  for (const [file, rules] of Object.entries(data['findings'])) {
    if (!isObject(rules)) return wrong(`${JSON.stringify(file)} is not followed by counts`);
    const counts = new Map<string, number>();
    for (const [rule, count] of Object.entries(rules)) {
      if (!Number.isInteger(count) || (count as number) < 1) {
        return wrong(`the count of ${JSON.stringify(rule)} in ${JSON.stringify(file)} is not a whole number above 0`);
      }
      counts.set(rule, count as number);
    }
    baseline.set(file, counts);
  }
  return { ok: true, value: baseline };
}

/** The text of a baseline: sorted, one count a line, so that it merges well. */
export function baselineText(baseline: Baseline): string {
  const sorted = <T>(map: ReadonlyMap<string, T>) => [...map].sort(([a], [b]) => (a < b ? -1 : 1));
  const findings = Object.fromEntries(
    sorted(baseline)
      .filter(([, rules]) => rules.size > 0)
      .map(([file, rules]) => [file, Object.fromEntries(sorted(rules))]),
  );
  return `${JSON.stringify({ kerflint: VERSION, findings }, null, 2)}\n`;
}

/**
 * Marks the open findings of a job that the baseline covers. Where a file has more findings of a rule in the run than the baseline counts,
 * none is marked: nobody can tell which of them is new. Safety rules are never covered, because a count states no reason and no date.
 */
export function covered(job: JobResult, baseline: Baseline, present: Baseline): JobResult {
  const isCovered = ({ status, rule, location }: Finding) => {
    const now = present.get(location.file)?.get(rule);
    return status === 'open' && now !== undefined && now <= (baseline.get(location.file)?.get(rule) ?? 0);
  };
  const findings = job.findings.map((finding) =>
    isCovered(finding) ? { ...finding, status: 'baselined' as const } : finding,
  );
  return { ...job, findings };
}

/** What a baseline is held against: counted over the jobs of a run, one by one. */
export class BaselineCounts {
  readonly #safetyRules: ReadonlySet<string>;
  readonly #present = new Map<string, Map<string, number>>();
  readonly #checked = new Set<string>();

  constructor(safetyRules: ReadonlySet<string>) {
    this.#safetyRules = safetyRules;
  }

  take({ sidecar, files, findings }: JobResult): void {
    for (const file of [sidecar, ...Object.values(files)]) if (file !== null) this.#checked.add(file);
    for (const { status, rule, location } of findings) {
      this.#checked.add(location.file);
      if (status === 'waived' || this.#safetyRules.has(rule)) continue;
      const rules = this.#present.get(location.file) ?? new Map<string, number>();
      rules.set(rule, (rules.get(rule) ?? 0) + 1);
      this.#present.set(location.file, rules);
    }
  }

  /** How many findings are open or covered already, by file and rule; safety rules are left out. */
  get present(): Baseline {
    return this.#present;
  }

  /** Every file that the run's jobs consist of or that findings point into. */
  get checked(): ReadonlySet<string> {
    return this.#checked;
  }
}

/**
 * The baseline with counts lowered to what is still there, never raised. Files outside the run keep theirs while they
 * exist; `gone` tells which do not.
 */
export function prunedBaseline(
  baseline: Baseline,
  present: Baseline,
  checked: ReadonlySet<string>,
  gone: (file: string) => boolean,
): Baseline {
  const kept = new Map<string, Map<string, number>>();
  for (const [file, rules] of baseline) {
    if (gone(file)) continue;
    const left = checked.has(file)
      ? [...rules].map(([rule, count]) => [rule, Math.min(count, present.get(file)?.get(rule) ?? 0)] as const)
      : [...rules];
    kept.set(file, new Map(left.filter(([, count]) => count > 0)));
  }
  return kept;
}

/** The baseline with what is there now for the files of this run, and unchanged for all others. */
export function renewedBaseline(baseline: Baseline, present: Baseline, checked: ReadonlySet<string>): Baseline {
  return new Map([...[...baseline].filter(([file]) => !checked.has(file)), ...present]);
}

/** How many findings a baseline still counts that are gone, over the files of this run. */
export function unusedCount(baseline: Baseline, present: Baseline, checked: ReadonlySet<string>): number {
  let unused = 0;
  for (const [file, rules] of baseline) {
    if (!checked.has(file)) continue;
    for (const [rule, count] of rules) unused += Math.max(0, count - (present.get(file)?.get(rule) ?? 0));
  }
  return unused;
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
