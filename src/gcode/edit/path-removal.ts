import type { LineSpan } from '../../model/editing.ts';
import type { InForce } from '../modal/in-force.ts';
import { type Chain, chainsOf } from './between-moves.ts';
import type { Changes } from './changes.ts';
import type { PlainWord } from './plain-line.ts';
import { Refused } from './refusal.ts';
import type { Survey } from './survey.ts';
import { bridging, changedMode } from './words-for.ts';

/** Takes paths out, each with what is switched for it alone, and puts in force what was in force behind it. */
export function removePaths(survey: Survey, changes: Changes, paths: readonly LineSpan[]): void {
  for (const chain of chainsOf(survey, paths)) takeOut(changes, chain);
}

/** Removes the lines up to the last stroke. What is switched behind it stays, and what else is in force there is written. */
export function takeOut(changes: Changes, { from, worded, trailing, next }: Chain): void {
  const last = trailing.at(-1) ?? worded.at(-1)!;
  const wanted = next?.before ?? last.after;
  const changed = changedMode(from.before, wanted);
  if (changed !== null) throw new Refused(`${changed} changes around it`, from.line);
  const left = trailing.flatMap(({ words }) => words).reduce(switched, from.before);
  const bridge = bridging(left, wanted, next);
  if (bridge === null) throw new Refused('the line behind it goes on with an arc that it does not name', last.line);
  for (const line of worded) changes.remove(line.line);
  // Nothing is put at the end of a file, which may have been cut off there.
  if (next !== null) changes.ahead(next.line, bridge);
}

/** What is in force behind a word of a line that moves nothing. Whatever else it may change is held to be the same on both sides. */
function switched(state: InForce, { letter, value }: PlainWord): InForce {
  if (letter === 'F') return { ...state, feed: value * state.scale };
  if (letter === 'S') return { ...state, raw: value };
  if (letter === 'G') return value <= 3 ? { ...state, motion: 10 * value } : state;
  if (letter !== 'M') return state;
  if (value === 3 || value === 4) return { ...state, mode: value === 3 ? 'M3' : 'M4' };
  if (value === 5) return { ...state, mode: 'off' };
  if (value === 7) return { ...state, mist: true };
  return value === 8 ? { ...state, air: true } : { ...state, air: false, mist: false };
}
