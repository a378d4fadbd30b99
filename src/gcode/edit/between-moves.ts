import type { LineSpan } from '../../model/editing.ts';
import { Refused } from './refusal.ts';
import type { Survey, SurveyedLine } from './survey.ts';
import { changedMode } from './words-for.ts';

/** Codes that a removed line may hold: what they put in force is written anew. Units, planes and frames are looked at besides. */
const G_KNOWN = new Set([0, 1, 2, 3, 17, 18, 19, 20, 21, 70, 71, 90, 90.1, 91, 91.1, 94]);
const M_KNOWN = new Set([3, 4, 5, 7, 8, 9]);
const LETTERS_KNOWN = new Set(['N', 'G', 'M', 'F', 'S', 'X', 'Y', 'I', 'J', 'R']);

/** The end points of a path are one to this, mm. */
const SAME_MM = 1e-6;

/** A path's lines with those around it that move nothing: from behind the move before it to ahead of the move after it. */
export interface Surroundings {
  from: SurveyedLine;
  /** Behind the last of them; null at the end of the file. */
  next: SurveyedLine | null;
  /** Those that hold words, in order. */
  worded: SurveyedLine[];
}

/** @throws Refused where one of the lines is more than a plain one, or the moves before and after are out of sight */
export function surroundingsOf(survey: Survey, path: LineSpan): Surroundings {
  let from = path.first;
  while (isBetween(survey.at(from - 1))) from--;
  if (from > 1 && survey.at(from - 1) === null) throw new Refused('the move before it is out of sight', path.first);
  let next = path.last + 1;
  while (isBetween(survey.at(next))) next++;
  if (next <= survey.count && survey.at(next) === null)
    throw new Refused('the move after it is out of sight', path.last);
  const worded: SurveyedLine[] = [];
  for (let number = from; number < next; number++) {
    const line = survey.at(number)!;
    if (line.kind === 'blank' || line.kind === 'comment') continue;
    checkPlain(line);
    worded.push(line);
  }
  return { from: survey.at(from)!, next: survey.at(next), worded };
}

function isBetween(line: SurveyedLine | null): boolean {
  return line !== null && (line.kind === 'modal' || line.kind === 'blank' || line.kind === 'comment');
}

/** The lines of a path, each a move in absolute mode from one end back to the same. */
export function closedPath(survey: Survey, { first, last }: LineSpan): SurveyedLine[] {
  const lines: SurveyedLine[] = [];
  for (let number = first; number <= last; number++) {
    const line = survey.at(number);
    if (line === null) throw new Refused('a line of it is out of sight', number);
    if (line.kind === 'blank') continue;
    if (line.kind === 'comment') throw new Refused('a comment stands amid it, which names what follows', number);
    if (line.kind !== 'move' && line.kind !== 'modal') throw new Refused('a line amid it does more than cut', number);
    checkPlain(line);
    if (!line.before.absolute) throw new Refused('it is written in relative coordinates (G91)', number);
    if (line.before.absoluteCentres) throw new Refused('its arcs have absolute centres (G90.1)', number);
    if (line.before.feedMode !== 'per-minute') throw new Refused('its feed is no feed per minute (G93)', number);
    lines.push(line);
  }
  const from = lines[0]!.before;
  const to = lines.at(-1)!.after;
  const changed = changedMode(from, to);
  if (changed !== null) throw new Refused(`${changed} changes amid it`, first);
  if (Math.abs(from.x - to.x) > SAME_MM || Math.abs(from.y - to.y) > SAME_MM)
    throw new Refused('it does not end where it begins', last);
  return lines;
}

function checkPlain(line: SurveyedLine): void {
  if (line.kind === 'odd') throw new Refused('a line of it is more than plain words', line.line);
  const strange = line.words.find(
    ({ letter, value }) =>
      !LETTERS_KNOWN.has(letter) || (letter === 'G' && !G_KNOWN.has(value)) || (letter === 'M' && !M_KNOWN.has(value)),
  );
  if (strange === undefined) return;
  const what = strange.letter === 'G' || strange.letter === 'M' ? `${strange.letter}${strange.value}` : strange.letter;
  throw new Refused(`a line of it holds ${what}`, line.line);
}
