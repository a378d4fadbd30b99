import { readFileSync, statSync } from 'node:fs';
import { resolve } from 'node:path';
import type { RunResult } from '../../findings/result.ts';
import { readDrawing } from '../../report/data/drawing.ts';
import { escapeTerminal } from '../../report/escape.ts';
import type { ReportContext } from '../../report/report-context.ts';

type Pictures = NonNullable<ReportContext['pictures']>;

/** A drawing of a whole run is bounded to some 40 MB; a file beyond this is none. */
const MOST_DRAWING_BYTES = 128 * 1024 * 1024;

/** What lies beside the results under `<name>.drawing.json`; one that is not used is told, and costs the pictures of its part. */
export function drawingsBeside(
  files: readonly string[],
  results: readonly RunResult[],
  cwd: string,
  tell: (line: string) => void,
): Pictures {
  return new Map(
    files.flatMap((file, i) => {
      const beside = drawingBeside(file);
      const read = readDrawingFile(resolve(cwd, beside), results[i]!);
      if (read === null) return [];
      if (!('refused' in read)) return [...read.pictures];
      tell(escapeTerminal(`${beside} ${read.refused}: its pictures are left out.`));
      return [];
    }),
  );
}

/** A shell that is told `part-*.json` names the drawings as well: they are read with their results. */
export function withoutDrawings(files: readonly string[]): string[] {
  const drawings = new Set(files.map(drawingBeside));
  return files.filter((file) => !drawings.has(file));
}

/** `a.json` has its drawing in `a.drawing.json`. */
export function drawingBeside(file: string): string {
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
