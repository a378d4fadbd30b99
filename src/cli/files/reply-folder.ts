import { mkdirSync, mkdtempSync, readdirSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { deserialize, serialize } from 'node:v8';
import type { ReplySettings } from '../../job/settings/reply-settings.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { REPLY } from '../../report/formats.ts';
import type { ReplyFile } from '../../report/reply/reply.ts';
import { UsageError } from '../usage-error.ts';
import type { ReportsInTheMaking } from './outputs.ts';
import { PutAside } from './put-aside.ts';

const MARK = `${REPLY.name}=`;

/**
 * The folder of `--format reply=<folder>`, and the other formats.
 * @throws UsageError without a folder, with more than one, or while watching
 */
export function replyFolder(
  formats: readonly string[],
  watching: boolean,
): { folder: string | null; others: readonly string[] } {
  const isReply = (format: string) => format === REPLY.name || format.startsWith(MARK);
  const [first, ...more] = formats.filter(isReply);
  const others = formats.filter((format) => !isReply(format));
  if (first === undefined) return { folder: null, others };
  const folder = first.slice(MARK.length);
  if (folder === '')
    throw new UsageError(
      '--format reply names no folder.',
      'Write --format reply=<folder>, one that does not exist yet.',
    );
  if (more.length > 0) throw new UsageError('--format reply is given twice.', 'Answers go into one folder.');
  if (watching)
    throw new UsageError(
      '--watch does not go with --format reply.',
      'Answers are written once, when the check is done.',
    );
  return { folder, others };
}

/** @throws UsageError when the folder holds something, or is none */
export function mustBeNew(folder: string): void {
  const there = statSync(folder, { throwIfNoEntry: false });
  if (there === undefined) return;
  if (!there.isDirectory() || readdirSync(folder).length > 0)
    throw new UsageError(
      `${escapeTerminal(folder)} is there already${there.isDirectory() ? ' and holds files' : ' and is no folder'}.`,
      'Answers go into a new or empty folder: name another.',
    );
}

/** The answers of a run in the making: they are put aside until all are made. */
export async function openReplyFolder(folder: string, settings: ReplySettings): Promise<ReportsInTheMaking> {
  const writer = (await REPLY.load())(settings);
  const aside = new PutAside();
  const put = (files: readonly ReplyFile[]) => {
    for (const file of files) aside.put(serialize(file));
  };
  return {
    job: ({ result, drawing }) => put(writer.job(result, drawing)),
    end(run) {
      put(writer.end(run));
      writeReply(folder, filesIn(aside));
    },
    close: () => aside.remove(),
  };
}

function* filesIn(aside: PutAside): Iterable<ReplyFile> {
  for (const bytes of aside.pieces()) yield deserialize(bytes) as ReplyFile;
}

/**
 * Writes the answers whole or not at all: into a new folder beside it, which then takes its name.
 * @throws UsageError when the folder is not new, or cannot be written
 */
function writeReply(folder: string, files: Iterable<ReplyFile>): void {
  mustBeNew(folder);
  let made: string | null = null;
  try {
    mkdirSync(dirname(folder), { recursive: true });
    made = mkdtempSync(join(dirname(folder), `.${basename(folder)}-`));
    for (const { name, text } of files) writeFileSync(join(made, name), text, { flag: 'wx' });
    // In the place of an empty folder, too; one that was filled meanwhile is left alone.
    renameSync(made, folder);
  } catch (error) {
    if (made !== null) rmSync(made, { recursive: true, force: true });
    const { code } = error as { code?: string };
    throw new UsageError(
      `${escapeTerminal(folder)} cannot be written (${code ?? String(error)}).`,
      'Name a new folder in one that you may write to.',
    );
  }
}
