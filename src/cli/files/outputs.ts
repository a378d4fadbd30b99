import { resolve } from 'node:path';
import type { RunEnd, RunResult, RunStart } from '../../findings/result.ts';
import type { JudgedJob } from '../../preflight.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { drawsPictures, FORMAT_NAMES, FORMATS, type FormatName } from '../../report/formats.ts';
import type { ReportContext, ReportWriter } from '../../report/report-context.ts';
import { nearestWord } from '../../units/nearest-word.ts';
import type { OutputStream } from '../terminal/io.ts';
import { UsageError } from '../usage-error.ts';
import { TextAside } from './put-aside.ts';
import { readReportScript } from './read-report-script.ts';
import { writePieces } from './write-file.ts';

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

/** Where the reports of a run go to, and how they look. */
export interface OutputsAt {
  cwd: string;
  stdout: OutputStream;
  context: Omit<ReportContext, 'colour' | 'width' | 'pictures'>;
  colour: boolean;
  /** What to do with a link in the place of a file. */
  links: 'replace' | 'refuse';
}

/** A report that is made: its pieces as text or, for a file, as bytes. */
export type MadeText = Pick<TextAside, 'pieces' | 'bytes'>;

/** One report to make. */
export interface ReportOrder {
  format: FormatName;
  context: ReportContext;
  /** Takes the whole text. */
  send(text: MadeText): void;
}

/** The reports of a run in the making: given each job once, in their order. */
export interface ReportsInTheMaking {
  job(judged: Pick<JudgedJob, 'result' | 'drawing'>): void;
  /** Sends all of them, in the order in which they were ordered. */
  end(run: RunEnd): void;
  /** Forgets what was made. To be called at last, whatever happened. */
  close(): void;
}

/** Makes reports as the jobs come, and puts them aside until all are made. */
export async function openReports(orders: readonly ReportOrder[], start: RunStart): Promise<ReportsInTheMaking> {
  const made: { writer: ReportWriter; text: TextAside; order: ReportOrder }[] = [];
  for (const order of orders) {
    const format = await FORMATS[order.format].load();
    made.push({ writer: format.open(order.context, start), text: new TextAside(), order });
  }
  return {
    job({ result, drawing }) {
      for (const { writer, text } of made) text.add(writer.job(result, drawing));
    },
    end(run) {
      for (const { writer, text } of made) for (const piece of writer.end(run)) text.add(piece);
      for (const { text, order } of made) order.send(text);
    },
    close() {
      for (const { text } of made) text.close();
    },
  };
}

/** The reports that the command line asks for: files whole or not at all, and stdout last. */
export function openOutputs(
  specs: readonly OutputSpec[],
  start: RunStart,
  { cwd, stdout, context, colour, links }: OutputsAt,
): Promise<ReportsInTheMaking> {
  const stdoutLast = [...specs].sort((a, b) => Number(a.file === null) - Number(b.file === null));
  const orders = stdoutLast.map(({ format, file }): ReportOrder => {
    const screen = file === null;
    return {
      format,
      context: {
        ...context,
        ...(drawsPictures(format) ? { script: readReportScript() } : {}),
        colour: screen && colour,
        width: screen && stdout.isTTY ? (stdout.columns ?? 100) : 100,
      },
      send(text) {
        if (file !== null) writePieces(resolve(cwd, file), text.bytes(), links);
        else for (const piece of text.pieces()) stdout.write(piece);
      },
    };
  });
  return openReports(orders, start);
}

/** The reports of a run that is held whole, with what is at hand of its pictures. */
export async function writeOutputs(
  { jobs, ...end }: RunResult,
  specs: readonly OutputSpec[],
  at: OutputsAt,
  pictures?: ReportContext['pictures'],
): Promise<void> {
  const outputs = await openOutputs(specs, end, at);
  try {
    for (const job of jobs) outputs.job({ result: job, drawing: pictures?.get(job.name) ?? null });
    outputs.end(end);
  } finally {
    outputs.close();
  }
}
