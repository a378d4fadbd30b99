import { lstatSync, mkdirSync, realpathSync, renameSync, rmSync, type Stats } from 'node:fs';
import { basename, dirname, join, relative, resolve } from 'node:path';
import type { MendedFile } from '../../fixes/mend.ts';
import type { FoundJob } from '../../job/files/job-opener.ts';
import { escapeTerminal } from '../../report/escape.ts';
import type { Source } from '../../source/source.ts';
import { slashed } from '../files/files.ts';
import { linkBelow } from '../files/links.ts';
import { newFile, replaceFile } from '../files/write-file.ts';
import { UsageError } from '../usage-error.ts';

/** Where a mended job goes. */
export interface FixTarget {
  /** For people. */
  where: string;
  /** What a file is called there, for people. */
  nameOf(file: Source): string;
  /** @throws UsageError when nothing may be written there */
  check(): void;
  /**
   * Writes whole or not at all; with `--in-place` file by file.
   * @throws UsageError when it cannot
   * @throws SourceUnreadable when a file cannot be read any more
   */
  write(mended: readonly MendedFile[]): void;
}

const JOB_SUFFIX = '.job.yaml';

/** A folder of its own, or the job's files themselves. `root`: the run's, absolute. */
export function fixTarget(
  job: FoundJob,
  root: string,
  how: { cwd: string; out: string | null; inPlace: boolean },
): FixTarget {
  if (how.inPlace) return new InPlace(job, root);
  const home = job.sidecarSource?.name ?? job.toolpath?.name ?? job.artwork?.name ?? job.name;
  const stem = home.endsWith(JOB_SUFFIX) ? home.slice(0, -JOB_SUFFIX.length) : home.replace(/\.[^./]*$/, '');
  const folder = how.out === null ? join(root, `${stem}.fixed`) : resolve(how.cwd, how.out);
  return new Copy(job, {
    root,
    folder,
    home: slashed(dirname(home)),
    shown: how.out ?? slashed(relative(how.cwd, folder)),
  });
}

/** A copy of the job with all its files, in a folder that is not there yet. */
class Copy implements FixTarget {
  readonly where: string;
  readonly #job: FoundJob;
  readonly #root: string;
  readonly #folder: string;
  /** Folder of the sidecar, relative to the root. */
  readonly #home: string;

  constructor(
    job: FoundJob,
    { root, folder, home, shown }: { root: string; folder: string; home: string; shown: string },
  ) {
    this.#job = job;
    this.#root = root;
    this.#folder = folder;
    this.#home = home === '.' ? '' : `${home}/`;
    this.where = shown;
  }

  nameOf(file: Source): string {
    const fromRoot = slashed(relative(this.#root, this.#folder));
    return `${fromRoot.startsWith('../') ? this.where : fromRoot}/${this.#below(file)}`;
  }

  check(): void {
    if (lstatSync(this.#folder, { throwIfNoEntry: false }) !== undefined) {
      throw new UsageError(
        `${escapeTerminal(this.where)} is there already.`,
        'Name another folder with --out, or take it away.',
      );
    }
    const link = linkBelow(realpathSync(this.#root), dirname(this.#folder));
    if (link !== null) {
      throw new UsageError(
        `${escapeTerminal(this.where)} leads through the link ${escapeTerminal(link)}.`,
        'Name a folder without links on its way, with --out.',
      );
    }
    for (const file of this.#files()) this.#below(file);
  }

  write(mended: readonly MendedFile[]): void {
    const changed = new Map(mended.map(({ original, pieces }) => [original.name, pieces.source(original)]));
    const beside = join(dirname(this.#folder), `.${basename(this.#folder)}.${process.pid}.tmp`);
    mkdir(dirname(this.#folder), this.where, true);
    mkdir(beside, this.where, false);
    try {
      for (const file of this.#files()) {
        const path = join(beside, this.#below(file));
        mkdir(dirname(path), this.where, true);
        newFile(path, (changed.get(file.name) ?? file).chunks());
      }
      this.check();
      renameSync(beside, this.#folder);
    } catch (error) {
      rmSync(beside, { recursive: true, force: true });
      throw asUsage(error, this.where);
    }
  }

  /** The job's files, and the profiles beside it that bear on how it is judged. */
  #files(): Source[] {
    const { sidecarSource, toolpath, artwork, beside } = this.#job;
    return [sidecarSource, toolpath, artwork, ...beside].filter((file) => file !== null);
  }

  /** Path of a file as the sidecar sees it. */
  #below({ name }: Source): string {
    if (name.startsWith(this.#home)) return name.slice(this.#home.length);
    throw new UsageError(
      `${escapeTerminal(name)} lies outside of the job’s folder, and a copy would not find it.`,
      'Change the job itself with --in-place, or move the file.',
    );
  }
}

/** The job's own files. */
class InPlace implements FixTarget {
  readonly where = 'the files of the job';
  readonly #root: string;
  readonly #seen = new Map<string, Stats>();

  constructor({ toolpath, sidecarSource }: FoundJob, root: string) {
    this.#root = root;
    for (const file of [toolpath, sidecarSource]) {
      const stats = file && lstatSync(join(root, file.name), { throwIfNoEntry: false });
      if (file && stats) this.#seen.set(file.name, stats);
    }
  }

  nameOf({ name }: Source): string {
    return name;
  }

  check(): void {
    for (const [name, stats] of this.#seen) this.#checkFile(name, stats);
  }

  write(mended: readonly MendedFile[]): void {
    // All are looked at ahead of the first that is written.
    this.check();
    for (const { original, pieces } of mended) {
      const { mode } = this.#seen.get(original.name)!;
      replaceFile(join(this.#root, original.name), pieces.source(original).chunks(), mode & 0o777);
    }
  }

  #checkFile(name: string, seen: Stats): void {
    const path = join(this.#root, name);
    const link = linkBelow(realpathSync(this.#root), path);
    if (link !== null || !seen.isFile()) {
      throw new UsageError(
        `${escapeTerminal(name)} is a link or lies behind one, and is not changed.`,
        'Name the job where its files are, or go without --in-place.',
      );
    }
    const now = lstatSync(path, { throwIfNoEntry: false });
    if (now?.ino === seen.ino && now.size === seen.size && now.mtimeMs === seen.mtimeMs) return;
    throw new UsageError(`${escapeTerminal(name)} has changed meanwhile.`, 'Run it again.');
  }
}

function mkdir(path: string, shown: string, recursive: boolean): void {
  try {
    mkdirSync(path, { recursive });
  } catch (error) {
    throw asUsage(error, shown);
  }
}

function asUsage(error: unknown, shown: string): unknown {
  const { code } = error as { code?: string };
  if (code === undefined || error instanceof UsageError) return error;
  return new UsageError(
    `${escapeTerminal(shown)} cannot be written (${code}).`,
    'Name a folder that you may write to, with --out.',
  );
}
