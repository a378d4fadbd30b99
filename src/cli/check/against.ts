import { existsSync, realpathSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { compareResults } from '../../findings/comparing/compare.ts';
import type { Comparison } from '../../findings/comparing/comparison.ts';
import type { RunResult } from '../../findings/result.ts';
import { withVerdict } from '../../findings/verdict.ts';
import { type JudgedJob, rulesOncePerRun } from '../../preflight.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { drawingBeside, drawingsBeside } from '../files/drawings-beside.ts';
import { isWithin } from '../files/files.ts';
import { withoutLinks } from '../files/links.ts';
import { readResult } from '../files/read-result.ts';
import { UsageError } from '../usage-error.ts';

/** A result to hold a run against. */
export interface AgainstUse {
  /** As typed. */
  file: string;
  /** Only what is new or risen since then fails the run. */
  failOnNew: boolean;
}

interface Where {
  cwd: string;
  untrusted: boolean;
  shop: string | null;
}

/** A base that was read, for the run that is held against it. */
export interface Base {
  use: AgainstUse;
  result: RunResult;
}

const AGAIN =
  'Make the base anew, on the branch the change goes to: kerflint check … --format json=<file>, with the same options.';

/**
 * Reads the base before anything is judged.
 * @throws UsageError when it is no whole result of this schema, or untrusted files could have brought it along
 */
export function readBase(use: AgainstUse, where: Where): Base {
  const { cwd, untrusted } = where;
  if (untrusted && !inShop(resolve(cwd, use.file), where)) {
    throw new UsageError(
      `--against ${escapeTerminal(use.file)} does not lie inside --shop.`,
      'With --untrusted only a result in the folder of --shop is trusted, by its path without links: strangers could bring one along that makes light of what they change.',
    );
  }
  const result = readResult(use.file, cwd);
  if (result.shard !== undefined)
    throw new UsageError(
      `--against ${escapeTerminal(use.file)} is a part of a divided run.`,
      'Put the parts together first: kerflint join <parts> --format json=<file>.',
    );
  return { use, result };
}

/**
 * Looks whether a run can be held against the base at all.
 * @throws UsageError when the two were not made by the same kerflint, settings and shop
 */
export function refuseOtherBase({ use, result: base }: Base, now: Judged, tell: (line: string) => void): void {
  const differs = whatDiffers(base, now);
  if (differs !== null)
    throw new UsageError(`--against ${escapeTerminal(use.file)} cannot be compared: ${differs}.`, AGAIN);
  const [day, today] = [base.judgedBy?.today, now.judgedBy?.today];
  if (day === today) return;
  const days = `${use.file} was judged on ${day}, this run on ${today}`;
  tell(escapeTerminal(`${days}: a waiver that ran out between them counts as what the change brought.`));
}

/**
 * The jobs of a run with what has become of them since the base. Which job and which finding is which can only be told of all of them: so
 * they are held until the last is judged, their pictures too.
 * @param root of the run, absolute.
 */
export async function againstBase(
  judged: AsyncIterable<JudgedJob>,
  base: Base,
  root: string,
): Promise<{ jobs: JudgedJob[]; comparison: Comparison }> {
  const jobs: JudgedJob[] = [];
  // A baseline may have covered what a verdict was for.
  for await (const job of judged) jobs.push({ ...job, result: withVerdict(job.result) });
  return { jobs, comparison: comparisonWith(base, { jobs: jobs.map(({ result }) => result) }, root) };
}

/**
 * What has become of the jobs since the base.
 * @param root of the run, absolute; null where its jobs are all there are.
 */
export function comparisonWith(
  { use, result: base }: Base,
  now: Pick<RunResult, 'jobs'>,
  root: string | null,
): Comparison {
  return compareResults(base, now, {
    oncePerRun: rulesOncePerRun,
    isThere: (file) => root !== null && existsSync(join(root, file)),
    gate: use.failOnNew ? 'new' : 'all',
  });
}

/**
 * The pictures of the base where a drawing file lies beside it (`base.json`, `base.drawing.json`), by the job's name there.
 * What is not used is told: of another run, or no drawing, or under `untrusted` not in the folder of --shop.
 */
export function picturesOfBase(
  { use, result }: Base,
  where: Where,
  tell: (line: string) => void,
): ReturnType<typeof drawingsBeside> {
  const beside = drawingBeside(use.file);
  if (where.untrusted && !inShop(resolve(where.cwd, beside), where)) {
    tell(escapeTerminal(`${beside} does not lie inside --shop: its pictures are left out.`));
    return new Map();
  }
  return drawingsBeside([use.file], [result], where.cwd, tell);
}

/** By its path without links. */
function inShop(path: string, { cwd, shop }: Where): boolean {
  return shop !== null && isWithin(withoutLinks(path), realpathSync.native(resolve(cwd, shop)));
}

type Judged = Pick<RunResult, 'tool' | 'judgedBy'>;

function whatDiffers(base: Judged, now: Judged): string | null {
  if (base.tool.version !== now.tool.version)
    return `it comes from kerflint ${escapeTerminal(base.tool.version)}, and this is ${now.tool.version}`;
  if (base.judgedBy === undefined) return 'it does not say by which settings and shop it was judged';
  if (now.judgedBy === undefined) return 'this result does not say by which settings and shop it was judged';
  if (base.judgedBy.settings !== now.judgedBy.settings)
    return 'other settings were in force (.kerflint.yaml, or options that bear on the result)';
  if (base.judgedBy.shop !== now.judgedBy.shop)
    return "the shop's files (machines, benches, materials) were not the same";
  return null;
}
