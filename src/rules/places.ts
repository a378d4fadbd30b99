import type { JobFacts } from '../facts/facts.ts';
import type { Location, Place, Problem } from '../facts/types.ts';
import type { ReportDescriptor } from '../findings/report-descriptor.ts';
import {
  ARTWORK_PROBLEMS,
  type ArtworkProblemCode,
  TOOLPATH_PROBLEMS,
  type ToolpathProblemCode,
} from '../model/problem-codes.ts';

/** Related places that one finding shows at most. */
const RELATED_LIMIT = 5;

/** A place in the job's toolpath. */
export function inToolpath(facts: JobFacts, place: Place): Location {
  return { ...place, file: facts.input.files.toolpath ?? facts.input.home.file };
}

/** A whole line of the job's toolpath, given by its number. */
export function lineOfToolpath(facts: JobFacts, line: number): Location {
  return inToolpath(facts, { line, column: 1, endLine: line, endColumn: 1 });
}

/** A place in the job's artwork. */
export function inArtwork(facts: JobFacts, place: Place): Location {
  return { ...place, file: facts.input.files.artwork ?? facts.input.home.file };
}

/** Where the sidecar states a key; the job's home when there is no sidecar. */
export function inSidecar(facts: JobFacts, path: readonly (string | number)[]): Location {
  return facts.input.sidecar?.placeOf(path, 'value') ?? facts.input.home;
}

/** Problems of one code, wherever the reader met them. */
export interface ProblemGroup {
  first: Problem;
  /** All occurrences, those the reader only counted included. */
  count: number;
  others: Problem[];
}

/** How often problems occur, those counted that the reader did not list. */
export function countOf(problems: readonly Problem[]): number {
  return problems.reduce((sum, problem) => sum + 1 + (problem.more ?? 0), 0);
}

/** The problems with one code as one group, so that a hundred of one cause are one finding; null when there are none. */
export function groupOf<Code extends string>(problems: readonly Problem<Code>[], code: Code): ProblemGroup | null {
  const same = problems.filter((problem) => problem.code === code);
  const first = same[0];
  if (first === undefined) return null;
  return { first, count: countOf(same), others: same.slice(1) };
}

/** Problems of the toolpath that rules of their own judge; empty without a toolpath. */
export function toolpathProblems(facts: JobFacts): Problem<ToolpathProblemCode>[] {
  return inCodes(TOOLPATH_PROBLEMS, facts.toolpath?.problems ?? []);
}

/** Problems of the artwork that rules of their own judge; empty without artwork. */
export function artworkProblems(facts: JobFacts): Problem<ArtworkProblemCode>[] {
  return inCodes(ARTWORK_PROBLEMS, facts.artwork?.problems ?? []);
}

function inCodes<Code extends string>(codes: readonly Code[], problems: readonly Problem[]): Problem<Code>[] {
  const known: ReadonlySet<string> = new Set(codes);
  return problems.filter((problem): problem is Problem<Code> => known.has(problem.code));
}

/** The first five of many places as related places that all say the same. */
export function relatedPlaces(
  places: readonly Location[],
  messageId: string,
): NonNullable<ReportDescriptor['related']> {
  return places.slice(0, RELATED_LIMIT).map(({ file, ...place }) => ({ file, place, messageId, args: {} }));
}
