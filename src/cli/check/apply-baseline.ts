import { existsSync, readFileSync, realpathSync } from 'node:fs';
import { join, resolve, sep } from 'node:path';
import { deserialize, serialize } from 'node:v8';
import {
  type Baseline,
  BaselineCounts,
  baselineText,
  covered,
  prunedBaseline,
  readBaseline,
  renewedBaseline,
  unusedCount,
} from '../../findings/baseline.ts';
import type { JudgedJob } from '../../preflight.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { withLock } from '../files/file-lock.ts';
import { PutAside } from '../files/put-aside.ts';
import { writeFile } from '../files/write-file.ts';
import { RULES } from '../registered-rules.ts';
import { UsageError } from '../usage-error.ts';

/** What to do with a baseline file. */
export interface BaselineUse {
  /** As typed. */
  file: string;
  how: 'apply' | 'write' | 'prune';
}

interface Where {
  cwd: string;
  /** Absolute root of the run. */
  root: string;
  untrusted: boolean;
  shop: string | null;
  /** Told what a person should know. */
  tell: (line: string) => void;
}

/**
 * Applies a baseline to the jobs of a run; before that, writes or prunes the file when asked to. What is covered is only known when all jobs
 * are: meanwhile they are put aside.
 * @throws UsageError when the file is missing or is no baseline
 */
export async function* withBaseline(
  judged: AsyncIterable<JudgedJob>,
  use: BaselineUse,
  where: Where,
): AsyncGenerator<JudgedJob, void> {
  const path = resolve(where.cwd, use.file);
  if (where.untrusted && !liesInShop(path, where)) {
    where.tell(`${use.file} is not used: of strangers' files only a baseline in the --shop folder is trusted.`);
    yield* judged;
    return;
  }
  const readBefore = () => (use.how === 'write' && !existsSync(path) ? new Map() : read(path, use.file));
  // A file that is no baseline ends the run before anything is judged.
  const before = readBefore();
  const counts = new BaselineCounts(new Set(RULES.filter((rule) => rule.safety).map((rule) => rule.id)));
  const aside = new PutAside();
  try {
    for await (const job of judged) {
      counts.take(job.result);
      aside.put(serialize(job));
    }
    const { present, checked } = counts;
    const change = () => {
      const changed = changedBaseline(use, readBefore(), present, checked, where.root);
      writeFile(path, baselineText(changed), where.untrusted ? 'refuse' : 'replace');
      return changed;
    };
    // What another run counts meanwhile must not get lost between reading and writing.
    const now = use.how === 'apply' ? before : withLock(path, change);
    const unused = unusedCount(now, present, checked);
    if (unused > 0) where.tell(`${use.file} counts ${unused} more than there is: --prune-baseline lowers it.`);
    for (const bytes of aside.pieces()) {
      // A copy, since arrays of numbers stay where they are read.
      const job = deserialize(Buffer.from(bytes)) as JudgedJob;
      yield { ...job, result: covered(job.result, now, present) };
    }
  } finally {
    aside.remove();
  }
}

function changedBaseline(
  { how }: BaselineUse,
  before: Baseline,
  present: Baseline,
  checked: ReadonlySet<string>,
  root: string,
): Baseline {
  if (how === 'write') return renewedBaseline(before, present, checked);
  return prunedBaseline(before, present, checked, (file) => !existsSync(join(root, file)));
}

function read(path: string, typed: string): Baseline {
  let text: string;
  try {
    text = readFileSync(path, 'utf8');
  } catch (error) {
    const { code } = error as { code?: string };
    throw new UsageError(
      `the baseline ${escapeTerminal(typed)} cannot be read (${code ?? 'unknown'}).`,
      'Write it first: kerflint check --baseline <file> --write-baseline.',
    );
  }
  const parsed = readBaseline(text);
  if (parsed.ok) return parsed.value;
  throw new UsageError(
    `the baseline ${escapeTerminal(typed)} is wrong: ${parsed.problem}.`,
    'Write it anew with --write-baseline.',
  );
}

function liesInShop(path: string, { shop, cwd }: Where): boolean {
  if (shop === null || !existsSync(path)) return false;
  return realpathSync(path).startsWith(`${realpathSync(resolve(cwd, shop))}${sep}`);
}
