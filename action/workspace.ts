import { realpathSync } from 'node:fs';
import { resolve } from 'node:path';
import { isWithin } from '../src/cli/files/files.ts';
import { withoutLinks } from '../src/cli/files/links.ts';
import { UsageError } from '../src/cli/usage-error.ts';
import { escapeTerminal } from '../src/report/escape.ts';

/** The folder that a step may look for jobs in and write to, wherever the links in it lead. */
export class Workspace {
  /** Absolute, free of links. */
  readonly root: string;

  /** @throws UsageError when there is no such folder */
  constructor(path: string) {
    try {
      this.root = realpathSync.native(path);
    } catch {
      throw new UsageError(
        `the workspace ${escapeTerminal(path)} is not there.`,
        'Check the jobs out in a step before this one.',
      );
    }
  }

  /**
   * What an input names, as an absolute path.
   * @param input its name, for people.
   * @param from absolute folder that it begins in.
   * @throws UsageError when its real path lies outside
   */
  resolve(input: string, from: string, path: string): string {
    const absolute = resolve(from, path);
    const real = withoutLinks(absolute);
    if (isWithin(real, this.root)) return absolute;
    throw new UsageError(
      `the input ${input} (${escapeTerminal(path)}) leads out of the workspace, to ${escapeTerminal(real)}.`,
      'Name a place inside the workspace, by a way without links out of it.',
    );
  }
}
