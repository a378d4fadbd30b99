import { SEVERITIES, type Severity } from '../../findings/finding.ts';
import type { Unchecked } from '../../job/files/left-out.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { nearestWord } from '../../units/nearest-word.ts';
import { type OutputSpec, outputSpecs } from '../files/outputs.ts';
import { replyFolder } from '../files/reply-folder.ts';
import type { ColourChoice } from '../terminal/colour.ts';
import { todayOption } from '../today-option.ts';
import { UsageError } from '../usage-error.ts';
import type { BaselineUse } from './apply-baseline.ts';
import { parseShard, type Shard } from './shard.ts';

/** The options of `check` as typed. */
export interface RawCheckOptions {
  format?: string[];
  failOn: string;
  maxWarnings?: string;
  shop?: string;
  untrusted?: boolean;
  machine?: string;
  lens?: string;
  material?: string;
  thickness?: string;
  today?: string;
  quiet?: boolean;
  color: ColourChoice;
  baseline?: string;
  writeBaseline?: boolean;
  pruneBaseline?: boolean;
  changedFiles?: string;
  shard?: string;
  workers?: string;
  cache?: string;
  watch?: boolean;
  unchecked?: string[];
}

/** The options of `check`, checked. */
export interface CheckOptions {
  outputs: OutputSpec[];
  /** A new or empty folder for the answers to those who sent the jobs, as typed; null for none. */
  reply: string | null;
  failOn: Severity;
  maxWarnings: number | null;
  shop: string | null;
  untrusted: boolean;
  bare: { machine?: string; lens?: string; material?: string; thickness?: string };
  /** ISO date. */
  today: string;
  quiet: boolean;
  colour: ColourChoice;
  baseline: BaselineUse | null;
  /** A file, or `-` for stdin. */
  changedFiles: string | null;
  shard: Shard | null;
  workers: number;
  /** Folder with results of earlier runs, as typed. */
  cache: string | null;
  /** Check again whenever a file is saved. */
  watch: boolean;
  unchecked: Partial<Unchecked>;
}

/** @throws UsageError for a value that is none */
export function checkOptions(typed: RawCheckOptions): CheckOptions {
  const bare: CheckOptions['bare'] = {};
  for (const key of ['machine', 'lens', 'material', 'thickness'] as const) {
    const value = typed[key];
    if (value === undefined) continue;
    if (value.trim() === '') throw new UsageError(`--${key} is empty.`, 'Give it a value or leave it out.');
    bare[key] = value;
  }
  const { folder: reply, others } = replyFolder(typed.format ?? [], typed.watch ?? false);
  return {
    outputs: outputSpecs(others),
    reply,
    failOn: severity(typed.failOn),
    maxWarnings: typed.maxWarnings === undefined ? null : wholeNumber('--max-warnings', typed.maxWarnings),
    shop: typed.shop ?? null,
    untrusted: typed.untrusted ?? false,
    bare,
    today: todayOption(typed.today),
    quiet: typed.quiet ?? false,
    colour: typed.color,
    baseline: baselineUse(typed),
    changedFiles: typed.changedFiles ?? null,
    shard: typed.shard === undefined ? null : parseShard(typed.shard),
    workers: typed.workers === undefined ? 1 : workerCount(typed.workers),
    cache: typed.cache === undefined ? null : folderName('--cache', typed.cache),
    watch: watching(typed),
    unchecked: uncheckedOf(typed.unchecked ?? []),
  };
}

/** @throws UsageError when one is not `toolpath=note`, or the like */
export function uncheckedOf(options: readonly string[]): Partial<Unchecked> {
  const unchecked: Partial<Unchecked> = {};
  for (const option of options) {
    const [, kind, weight] = /^(toolpath|artwork)=(incomplete|note)$/.exec(option) ?? [];
    if (kind === undefined)
      throw new UsageError(
        `--unchecked "${escapeTerminal(option)}" says nothing of files left unjudged.`,
        'Write toolpath or artwork, and incomplete or note, for instance --unchecked toolpath=note.',
      );
    unchecked[kind as keyof Unchecked] = weight as Unchecked['toolpath'];
  }
  return unchecked;
}

function watching({ watch = false, changedFiles, shard, writeBaseline, pruneBaseline }: RawCheckOptions): boolean {
  if (watch && (changedFiles ?? shard ?? writeBaseline ?? pruneBaseline) !== undefined)
    throw new UsageError(
      '--watch goes with neither --changed-files, --shard, --write-baseline nor --prune-baseline.',
      'Watch the folder as a whole.',
    );
  return watch;
}

function baselineUse(typed: RawCheckOptions): BaselineUse | null {
  const renew = [
    ...(typed.writeBaseline ? (['write'] as const) : []),
    ...(typed.pruneBaseline ? (['prune'] as const) : []),
  ];
  const [how = 'apply', another] = renew;
  if (another !== undefined)
    throw new UsageError(
      '--write-baseline and --prune-baseline exclude each other.',
      'Writing leaves nothing to prune.',
    );
  if (typed.baseline === undefined) {
    if (how === 'apply') return null;
    throw new UsageError(
      `--${how}-baseline needs to know which file.`,
      'For instance --baseline kerflint-baseline.json.',
    );
  }
  if (how !== 'apply' && typed.untrusted) {
    throw new UsageError(
      `--${how}-baseline does not go with --untrusted.`,
      'A baseline is written by those who are trusted.',
    );
  }
  return { file: typed.baseline, how };
}

/** @throws UsageError when it is none */
export function severity(text: string): Severity {
  const found = SEVERITIES.find((one) => one === text);
  if (found !== undefined) return found;
  const near = nearestWord(text, SEVERITIES);
  throw new UsageError(
    `fail-on: "${text}" is no severity${near === undefined ? '' : ` (did you mean ${near}?)`}.`,
    `There are ${SEVERITIES.join(', ')}.`,
  );
}

/** @throws UsageError when it is none */
export function wholeNumber(option: string, text: string): number {
  if (/^\d{1,9}$/.test(text)) return Number(text);
  throw new UsageError(`${option} "${text}" is not a whole number.`, `For instance ${option} 0.`);
}

/** More would only wait for each other: a run is bound by its processors. */
const MOST_WORKERS = 64;

function workerCount(text: string): number {
  const count = wholeNumber('--workers', text);
  if (count >= 1 && count <= MOST_WORKERS) return count;
  throw new UsageError(
    `--workers ${count} is out of range.`,
    `From 1 to ${MOST_WORKERS}; the number of processors is a good choice.`,
  );
}

function folderName(option: string, text: string): string {
  if (text.trim() !== '') return text;
  throw new UsageError(`${option} is empty.`, 'Name a folder or leave it out.');
}
