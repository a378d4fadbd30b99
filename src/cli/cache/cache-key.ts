import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { FoundJob } from '../../job/files/job-opener.ts';
import type { JudgingInput } from '../../preflight.ts';
import { type Source, SourceUnreadable } from '../../source/source.ts';
import type { TrustedSources } from '../check/gather.ts';
import { packagePath, packageVersion } from '../files/package-files.ts';

/**
 * Everything that the results of a run's jobs have in common, as one digest: the program, what runs it, the options, the settings, the
 * readers, and every file of catalogue and shop. Their sources must be remembered: what is hashed here is then what the library reads.
 * @throws SourceUnreadable when one of the files cannot be had
 */
export function runDigest({ options, settings, readers }: JudgingInput, { catalogue, shop }: TrustedSources): string {
  return digestOf({
    version: packageVersion(),
    program: programDigest(),
    // Mathematics and Unicode of another version of Node may differ in a last digit.
    node: [process.version, process.arch],
    options,
    settings,
    readers: readers.all.map(({ id }) => id),
    catalogue: catalogue.sources.map(stamp),
    shop: shop.sources.map(stamp),
  });
}

/**
 * The key of one job's result: the run's digest, and all that was found of the job, its files by their names and bytes. What was looked for
 * and not found is among its problems. Null when a file cannot be read.
 */
export function jobKey(run: string, job: FoundJob): string | null {
  const orNone = (source: Source | null) => (source === null ? null : stamp(source));
  try {
    return digestOf({
      run,
      name: job.name,
      machinePath: job.machinePath,
      problems: job.problems,
      sidecar: orNone(job.sidecarSource),
      toolpath: orNone(job.toolpath),
      artwork: orNone(job.artwork),
      beside: job.beside.map(stamp),
    });
  } catch (error) {
    if (error instanceof SourceUnreadable) return null;
    throw error;
  }
}

function stamp(source: Source): [name: string, size: number, sha256: string] {
  const hash = createHash('sha256');
  for (const chunk of source.chunks()) hash.update(chunk);
  return [source.name, source.size, hash.digest('hex')];
}

/** JSON in which all numbers stay distinct: plain JSON has no infinity and no negative zero. */
function digestOf(value: unknown): string {
  const exact = (_: string, one: unknown) =>
    typeof one === 'number' ? { number: Object.is(one, -0) ? '-0' : String(one) } : one;
  return createHash('sha256').update(JSON.stringify(value, exact)).digest('hex');
}

let program: string | undefined;

/** The code that runs: a version alone does not tell two builds apart. */
function programDigest(): string {
  if (program !== undefined) return program;
  const [own = ''] = relative(packagePath(), fileURLToPath(import.meta.url)).split(sep);
  const hash = createHash('sha256');
  const files = readdirSync(packagePath(own), { recursive: true, encoding: 'utf8' });
  for (const file of files.filter((name) => /\.[cm]?[jt]s$/.test(name)).sort()) {
    const text = readFileSync(join(packagePath(own), file));
    hash.update(`${JSON.stringify(file)} ${text.length}\n`).update(text);
  }
  program = hash.digest('hex');
  return program;
}
