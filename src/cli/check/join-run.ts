import { readFileSync, statSync } from 'node:fs';
import { resolve } from 'node:path';
import { safeParse } from 'valibot';
import { JoinError, joinResults } from '../../findings/joining.ts';
import type { RunResult } from '../../findings/result.ts';
import { exitCodeOf } from '../../findings/verdict.ts';
import { rulesOncePerRun } from '../../preflight.ts';
import { readDrawing } from '../../report/data/drawing.ts';
import { resultSchema } from '../../report/data/result-schema.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { drawsPictures } from '../../report/formats.ts';
import type { ReportContext } from '../../report/report-context.ts';
import { writeOutputs } from '../files/outputs.ts';
import { RULES } from '../registered-rules.ts';
import { wantsColour } from '../terminal/colour.ts';
import type { Io } from '../terminal/io.ts';
import { UsageError } from '../usage-error.ts';
import { checkOptions, type RawCheckOptions } from './check-options.ts';

type Pictures = NonNullable<ReportContext['pictures']>;
const NO_PICTURES: Pictures = new Map();
/** A drawing of a whole run is bounded to some 40 MB; a file beyond this is none. */
const MOST_DRAWING_BYTES = 128 * 1024 * 1024;

/** The `join` command: results of parts in, the report of the whole out, exit code as the undivided run would have. */
export async function runJoin(named: readonly string[], typed: RawCheckOptions, io: Io): Promise<number> {
  const options = checkOptions(typed);
  const files = withoutDrawings(named);
  const parts = files.map((file) => readResult(file, io.cwd));
  const result = whole(parts);
  const draws = options.outputs.some(({ format }) => drawsPictures(format));
  const pictures = draws ? joinedPictures(files, parts, io) : NO_PICTURES;
  await writeOutputs(result, options.outputs, {
    cwd: io.cwd,
    stdout: io.stdout,
    context: { rules: RULES, quiet: options.quiet, failLevel: options, rootInRepository: '', docsUrl: null, pictures },
    colour: wantsColour(options.colour, io.stdout, io.env),
    links: 'replace',
  });
  return exitCodeOf(result, options);
}

/** What lies beside the results under `<name>.drawing.json`; one that is not used is told, and costs the pictures of its part. */
function joinedPictures(files: readonly string[], parts: readonly RunResult[], io: Io): Pictures {
  return new Map(
    files.flatMap((file, i) => {
      const beside = drawingBeside(file);
      const read = readDrawingFile(resolve(io.cwd, beside), parts[i]!);
      if (read === null) return [];
      if (!('refused' in read)) return [...read.pictures];
      io.stderr.write(`kerflint: ${escapeTerminal(`${beside} ${read.refused}: its pictures are left out.`)}\n`);
      return [];
    }),
  );
}

/** A shell that is told `part-*.json` names the drawings as well: they are read with their results. */
function withoutDrawings(files: readonly string[]): string[] {
  const drawings = new Set(files.map(drawingBeside));
  return files.filter((file) => !drawings.has(file));
}

/** `a.json` has its drawing in `a.drawing.json`. */
function drawingBeside(file: string): string {
  return `${file.replace(/\.json$/, '')}.drawing.json`;
}

/** Null where there is no such file. */
function readDrawingFile(path: string, part: RunResult): ReturnType<typeof readDrawing> | null {
  try {
    const { size } = statSync(path);
    if (size > MOST_DRAWING_BYTES)
      return { refused: `is ${Math.round(size / 1e6)} MB large, more than a drawing can be` };
    return readDrawing(readFileSync(path, 'utf8'), part);
  } catch (error) {
    const { code } = error as { code?: string };
    return code === 'ENOENT' ? null : { refused: `cannot be read (${code ?? 'unknown'})` };
  }
}

function whole(parts: readonly RunResult[]): RunResult {
  try {
    return joinResults(parts, rulesOncePerRun);
  } catch (error) {
    if (error instanceof JoinError)
      throw new UsageError(escapeTerminal(error.message), 'Give the results of all parts of one run, each once.');
    throw error;
  }
}

function readResult(file: string, cwd: string): RunResult {
  const wayOut = 'Give files that kerflint check --format json=<file> wrote.';
  let data: unknown;
  try {
    data = JSON.parse(readFileSync(resolve(cwd, file), 'utf8'));
  } catch (error) {
    const { code } = error as { code?: string };
    throw new UsageError(
      `${escapeTerminal(file)} ${code === undefined ? 'is not JSON' : `cannot be read (${code})`}.`,
      wayOut,
    );
  }
  const parsed = safeParse(resultSchema, data);
  if (!parsed.success) throw new UsageError(`${escapeTerminal(file)} is no result of kerflint (version 1).`, wayOut);
  // The schema has checked it; what it does not know (added later) is kept.
  return data as RunResult;
}
