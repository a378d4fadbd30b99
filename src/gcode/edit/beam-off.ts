import type { Changes } from './changes.ts';
import { Refused } from './refusal.ts';
import type { Survey, SurveyedLine } from './survey.ts';
import { beamWords, numberText } from './words-for.ts';

/** Words that may stand on a line that waits: the line's number, the code, and how long. */
const WAITING = { dwell: new Set(['N', 'G', 'P', 'X', 'U', 'S']), pause: new Set(['N', 'M']) } as const;
const AIR = new Set([7, 8, 9]);

/** Writes M5 ahead of dwells and pauses, and the beam's words as they were ahead of the first line behind that does more than wait. */
export function beamOff(survey: Survey, changes: Changes, lines: readonly number[]): void {
  const wanted = new Set(lines);
  const done = new Set<number>();
  for (const number of [...wanted].sort((a, b) => a - b)) {
    if (done.has(number)) continue;
    const line = waitingLine(survey, number);
    changes.ahead(number, ['M5']);
    let next = number + 1;
    for (; goesOn(survey.at(next), wanted); next++) {
      if (wanted.has(next)) waitingLine(survey, next);
      done.add(next);
    }
    const behind = survey.at(next);
    if (behind === null && next <= survey.count) throw new Refused('too many lines follow that only wait', number);
    restore(changes, line, behind);
  }
}

function waitingLine(survey: Survey, number: number): SurveyedLine {
  const line = survey.at(number);
  const kind = line?.kind;
  if (line === null || (kind !== 'dwell' && kind !== 'pause'))
    throw new Refused('its line is not made of plain words that wait', number);
  const codes = line.words.filter(({ letter }) => letter === 'G' || letter === 'M');
  if (codes.length > 1 || line.words.some(({ letter }) => !WAITING[kind].has(letter)))
    throw new Refused('its line does more than wait', number);
  if (line.before.mode === 'off') throw new Refused('the beam is not switched on by M3 or M4 ahead of it', number);
  return line;
}

/** Whether the beam may stay off over a line: one more that waits, an empty one, a comment, or one that switches the air. */
function goesOn(line: SurveyedLine | null, wanted: ReadonlySet<number>): line is SurveyedLine {
  if (line === null) return false;
  if (line.kind === 'dwell' || line.kind === 'pause') return wanted.has(line.line);
  if (line.kind === 'blank' || line.kind === 'comment') return true;
  return line.kind === 'modal' && line.words.every(({ letter, value }) => letter === 'M' && AIR.has(value));
}

function restore(changes: Changes, { before }: SurveyedLine, behind: SurveyedLine | null): void {
  // At the end of the program the beam stays off.
  if (behind === null || behind.kind === 'end') return;
  const switches = (codes: readonly number[]) =>
    behind.words.some(({ letter, value }) => letter === 'M' && codes.includes(value));
  if (behind.kind !== 'odd' && switches([5])) return;
  if (behind.kind !== 'odd' && switches([3, 4])) {
    if (!behind.words.some(({ letter }) => letter === 'S')) changes.ahead(behind.line, [`S${numberText(before.raw)}`]);
    return;
  }
  changes.ahead(behind.line, [beamWords(before)]);
}
