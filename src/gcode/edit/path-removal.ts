import type { LineSpan } from '../../model/editing.ts';
import { closedPath, type Surroundings, surroundingsOf } from './between-moves.ts';
import type { Changes } from './changes.ts';
import { Refused } from './refusal.ts';
import type { Survey } from './survey.ts';
import { bridging, changedMode } from './words-for.ts';

/** Takes paths out, each with what is switched for it alone, and puts in force what was in force behind it. */
export function removePaths(survey: Survey, changes: Changes, paths: readonly LineSpan[]): void {
  const sorted = [...paths].sort((a, b) => a.first - b.first);
  for (let k = 0; k < sorted.length; ) {
    // Paths that follow each other with nothing between them go as one.
    closedPath(survey, sorted[k]!);
    const around = surroundingsOf(survey, sorted[k]!);
    let { next } = around;
    const worded = [...around.worded];
    for (k++; k < sorted.length && next?.line === sorted[k]!.first; k++) {
      closedPath(survey, sorted[k]!);
      const more = surroundingsOf(survey, sorted[k]!);
      worded.push(...more.worded);
      next = more.next;
    }
    takeOut(survey, changes, { ...around, worded, next });
  }
}

/** Removes the lines and bridges what is in force. */
export function takeOut(survey: Survey, changes: Changes, { from, worded, next }: Surroundings): void {
  const before = from.before;
  const last = worded.at(-1)!;
  const after = next?.before ?? last.after;
  const changed = changedMode(before, after);
  if (changed !== null) throw new Refused(`${changed} changes around it`, from.line);
  const bridge = bridging(before, after, next);
  if (bridge === null) throw new Refused('the line behind it goes on with an arc that it does not name', last.line);
  for (const line of worded) changes.remove(line.line);
  changes.ahead(next?.line ?? survey.count + 1, bridge);
}
