import type { Source } from '../source/source.ts';
import type { Finding } from './finding.ts';
import { gatherLines } from './lines.ts';

/** Lines shown ahead of a finding's first line and behind its last. */
const LINES_AROUND = 2;
/** Most lines that are shown of a finding that spans many. */
const MOST_LINES = 6;
/** Most findings of a job that get their lines; the others are listed without. */
const MOST_FINDINGS = 500;

/** The lines around a finding's place, as they stand in its file. */
export interface ContextLines {
  fingerprint: string;
  /** 1-based number of the first line. */
  startLine: number;
  lines: string[];
}

/** Looks up the lines around each finding in one pass over each file. Findings in files that cannot be read have none. */
export function contextLines(
  sources: ReadonlyMap<string, Source>,
  findings: readonly Pick<Finding, 'fingerprint' | 'location'>[],
): ContextLines[] {
  const shown = findings.slice(0, MOST_FINDINGS).map(({ fingerprint, location }) => {
    const first = Math.max(1, location.line - LINES_AROUND);
    const last = Math.min(location.endLine, location.line + MOST_LINES - 1) + LINES_AROUND;
    const places = Array.from({ length: last - first + 1 }, (_, i) => ({
      file: location.file,
      line: first + i,
      column: 1,
      endLine: first + i,
      endColumn: 1,
    }));
    return { fingerprint, startLine: first, places };
  });
  const lookup = gatherLines(
    sources,
    shown.flatMap(({ places }) => places),
  );
  return shown.flatMap(({ fingerprint, startLine, places }) => {
    const lines = places.flatMap((place) => lookup.lookUp(place).excerpt?.lines[0] ?? []);
    return lines.length === 0 ? [] : [{ fingerprint, startLine, lines }];
  });
}
