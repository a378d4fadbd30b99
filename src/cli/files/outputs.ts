import { resolve } from 'node:path';
import type { RunResult } from '../../findings/result.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { drawsPictures, FORMAT_NAMES, FORMATS, type FormatName } from '../../report/formats.ts';
import type { ReportContext } from '../../report/report-context.ts';
import { nearestWord } from '../../units/nearest-word.ts';
import type { OutputStream } from '../terminal/io.ts';
import { UsageError } from '../usage-error.ts';
import { readReportScript } from './read-report-script.ts';
import { writeFile } from './write-file.ts';

/** One report to make: its format, and the file it goes to (null: stdout). */
export interface OutputSpec<F extends string = FormatName> {
  format: F;
  file: string | null;
}

/** Reads the `--format` options of a check; errors as {@link formatOptions}. */
export function outputSpecs(options: readonly string[]): OutputSpec[] {
  return formatOptions(options, FORMAT_NAMES, 'json=result.json');
}

/**
 * Reads `--format` options, `name` or `name=file`; without any, text on stdout.
 * @param formats the names that there are, `text` among them.
 * @param example how one is written with a file.
 * @throws UsageError for an unknown name, an empty or repeated file, or two on stdout
 */
export function formatOptions<F extends string>(
  options: readonly string[],
  formats: readonly F[],
  example: string,
): OutputSpec<F>[] {
  const specs = (options.length === 0 ? ['text'] : options).map((option) => formatOption(option, formats, example));
  const [first, second] = specs.filter((spec) => spec.file === null);
  if (first !== undefined && second !== undefined) {
    throw new UsageError(
      `two formats cannot share stdout: ${first.format} and ${second.format}.`,
      `Give all but one a file, for instance --format ${second.format}=out.${second.format}.`,
    );
  }
  const files = specs.flatMap((spec) => spec.file ?? []);
  const twice = files.find((file, i) => files.indexOf(file) !== i);
  if (twice !== undefined)
    throw new UsageError(`two formats cannot share the file ${twice}.`, 'Give each its own file.');
  return specs;
}

function formatOption<F extends string>(option: string, formats: readonly F[], example: string): OutputSpec<F> {
  const [name = '', file] = splitOnce(option);
  const format = formats.find((one) => one === name);
  if (format === undefined) {
    const near = nearestWord(name, formats);
    throw new UsageError(
      `the format "${escapeTerminal(name)}" is not known${near === undefined ? '' : ` (did you mean ${near}?)`}.`,
      `Known are ${formats.join(', ')}; for instance --format ${example}.`,
    );
  }
  if (file === '')
    throw new UsageError(
      `--format ${format}= names no file.`,
      `Write --format ${format}=<file>, or --format ${format} for stdout.`,
    );
  return { format, file: file ?? null };
}

function splitOnce(option: string): [string, string?] {
  const at = option.indexOf('=');
  return at < 0 ? [option] : [option.slice(0, at), option.slice(at + 1)];
}

/** Makes all reports first and only then writes: files whole or not at all, and stdout last. */
export async function writeOutputs(
  result: RunResult,
  specs: readonly OutputSpec[],
  where: {
    cwd: string;
    stdout: OutputStream;
    context: Omit<ReportContext, 'colour' | 'width'>;
    colour: boolean;
    /** What to do with a link in the place of a file. */
    links: 'replace' | 'refuse';
  },
): Promise<void> {
  const made: { spec: OutputSpec; text: string }[] = [];
  for (const spec of specs) {
    const format = await FORMATS[spec.format].load();
    const screen = spec.file === null;
    const context: ReportContext = {
      ...where.context,
      ...(drawsPictures(spec.format) ? { script: readReportScript() } : {}),
      colour: screen && where.colour,
      width: screen && where.stdout.isTTY ? (where.stdout.columns ?? 100) : 100,
    };
    made.push({ spec, text: format(result, context) });
  }
  for (const { spec, text } of made)
    if (spec.file !== null) writeFile(resolve(where.cwd, spec.file), text, where.links);
  for (const { spec, text } of made) if (spec.file === null) where.stdout.write(text);
}
