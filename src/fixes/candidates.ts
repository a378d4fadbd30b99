import type { JobResult } from '../findings/result.ts';
import type { Location } from '../source/place.ts';
import type { FixContext } from './fix.ts';

/** Whether a rule found something here that is not waived. */
export function isOpen({ findings }: JobResult, rule: string): boolean {
  return findings.some((finding) => finding.rule === rule && finding.status === 'open');
}

/** A line of the toolpath as a place. */
export function onLineOf({ facts }: Pick<FixContext, 'facts'>, line: number): Location {
  const { files, home } = facts.input;
  return { file: files.toolpath ?? home.file, line, column: 1, endLine: line, endColumn: 1 };
}
