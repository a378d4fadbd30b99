import type { Finding } from './finding.ts';
import type { JobResult, LeftOutFile, RunResult } from './result.ts';
import { withVerdicts } from './run-tally.ts';

/** Results that cannot be joined; the message says why, as a sentence. */
export class JoinError extends Error {
  override readonly name = 'JoinFault';
}

/**
 * The parts of a divided run as one result, in the order of jobs that the undivided run would have. Rules that report
 * once a run are deduped.
 * @throws JoinError when a part is missing, there twice, or of another version
 */
export function joinResults(parts: readonly RunResult[], oncePerRun: ReadonlySet<string>): RunResult {
  const [first] = parts;
  if (first === undefined) throw new JoinError('There is nothing to join.');
  const other = parts.find((part) => part.tool.version !== first.tool.version);
  if (other !== undefined) {
    throw new JoinError(`The results come from kerflint ${first.tool.version} and ${other.tool.version}.`);
  }
  const strange = parts.find((part) =>
    (['settings', 'shop'] as const).some((key) => part.judgedBy?.[key] !== first.judgedBy?.[key]),
  );
  if (strange !== undefined) throw new JoinError('The results were judged by different settings or shops.');
  checkShards(parts);
  const jobs = parts.flatMap((part) => part.jobs).sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
  const twice = jobs.find((job, i) => jobs[i - 1]?.name === job.name);
  if (twice !== undefined) throw new JoinError(`The job ${twice.name} is in two of the results.`);
  // What has become of one part since a base says nothing of the whole.
  const { shard: _, comparison: __, ...whole } = first;
  const files = new Map(
    parts.flatMap((part) => part.notCheckedFiles).map((one) => [`${one.file}\n${one.reason}`, one]),
  );
  const notCheckedFiles = [...files].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, one]) => one);
  const leftOut = joinedLeftOut(parts);
  const once = new OncePerRun(oncePerRun);
  return withVerdicts({
    ...whole,
    jobs: jobs.map((job) => once.thinned(job)),
    notCheckedFiles,
    leftOut,
    passedBy: joinedPassedBy(parts),
  });
}

function joinedLeftOut(parts: readonly RunResult[]): LeftOutFile[] {
  const all = new Map(parts.flatMap((part) => part.leftOut).map((one) => [`${one.path}\n${one.reason}`, one]));
  return [...all].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, one]) => one);
}

function joinedPassedBy(parts: readonly RunResult[]): RunResult['passedBy'] {
  const sum = (key: keyof RunResult['passedBy']) => parts.reduce((total, part) => total + part.passedBy[key], 0);
  return {
    excluded: sum('excluded'),
    git: sum('git'),
    nodeModules: sum('nodeModules'),
    hiddenFolders: sum('hiddenFolders'),
    otherFiles: sum('otherFiles'),
  };
}

/** A missing part would look as if its jobs had passed. */
function checkShards(parts: readonly RunResult[]): void {
  const shards = parts.flatMap((part) => part.shard ?? []);
  const of = Math.max(0, ...shards.map((shard) => shard.of));
  if (shards.some((shard) => shard.of !== of))
    throw new JoinError('The results are parts of runs that were divided differently.');
  if (shards.length > 0 && shards.length < parts.length)
    throw new JoinError('Some of the results are parts of a divided run and some are whole.');
  for (let index = 1; index <= of; index++) {
    const there = shards.filter((shard) => shard.index === index).length;
    if (there !== 1) throw new JoinError(`Part ${index} of ${of} is ${there === 0 ? 'missing' : 'there twice'}.`);
  }
}

/**
 * For rules that report once a run: keeps only the first note of each, over the jobs of a run one by one. Only open notes are dropped: a
 * finding that the settings made more severe, or that is waived, stays in each job, so that no job's verdict depends on another's.
 */
export class OncePerRun {
  readonly #rules: ReadonlySet<string>;
  readonly #reported = new Set<string>();

  constructor(rules: ReadonlySet<string>) {
    this.#rules = rules;
  }

  thinned(job: JobResult): JobResult {
    const already = new Set(this.#reported);
    const isNote = ({ rule, severity, status }: Finding) =>
      severity === 'note' && status === 'open' && this.#rules.has(rule);
    for (const finding of job.findings) if (isNote(finding)) this.#reported.add(finding.rule);
    return { ...job, findings: job.findings.filter((finding) => !(isNote(finding) && already.has(finding.rule))) };
  }
}
