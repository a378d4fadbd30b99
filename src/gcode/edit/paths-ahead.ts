import type { PathsAhead } from '../../model/editing.ts';
import type { InForce } from '../modal/in-force.ts';
import { codeName } from '../text/block.ts';
import { chainsOf, firstAhead } from './between-moves.ts';
import type { Changes } from './changes.ts';
import { takeOut } from './path-removal.ts';
import { Refused } from './refusal.ts';
import type { Survey, SurveyedLine } from './survey.ts';
import { airWord, beamWords, changedMode, feedWord, namesMotion, placeWords, withoutNumber } from './words-for.ts';

/** Takes closed paths from where they are and runs them ahead of others: each with all that is in force for it, and a rapid there without the beam. */
export function pathsAhead(survey: Survey, changes: Changes, moves: readonly PathsAhead[]): void {
  const taken = new Set<number>();
  for (const { paths, of } of moves) {
    const place = firstAhead(survey, of);
    const here = place.before;
    const texts: string[] = [];
    let comment = here.comment;
    for (const chain of chainsOf(survey, paths)) {
      for (const lines of chain.paths) {
        const { before, line } = lines[0]!;
        const changed = changedMode(here, before);
        if (changed !== null) throw new Refused(`${changed} is another one there`, line);
        texts.push('M5', ...commentLine(comment, before.comment, line), `G0 ${placeWords(before)}`);
        texts.push(...allInForce(before), ...moved(lines));
        comment = before.comment;
      }
      for (const { line } of chain.worded) taken.add(line);
      takeOut(changes, chain);
    }
    texts.push('M5', ...commentLine(comment, here.comment, of), `G0 ${placeWords(here)}`);
    texts.push(...allInForce(here), ...motionBack(survey, place.line, of, here));
    changes.ahead(place.line, texts);
  }
  const amid = moves.find(({ of }) => taken.has(firstAhead(survey, of).line));
  if (amid !== undefined) throw new Refused('the outline around it lies amid what is moved', amid.of);
}

/** Units, distances, plane, feed, air and beam, in the words of the program. */
function allInForce(state: InForce): string[] {
  const modes = [state.scale === 1 ? 'G21' : 'G20', 'G90', 'G17', 'G94', feedWord(state)];
  return [modes.filter((word) => word !== '').join(' '), airWord(state), beamWords(state)];
}

function moved(lines: readonly SurveyedLine[]): string[] {
  const texts = lines.map((line) => withoutNumber(line, line.text));
  const [first] = lines;
  if (!namesMotion(first!)) texts[0] = `${codeName('G', first!.after.motion)} ${texts[0]!.trimStart()}`;
  return texts;
}

/** The motion that the lines ahead of the outline rely on. */
function motionBack(survey: Survey, from: number, to: number, here: InForce): string[] {
  for (let number = from; number <= to; number++) {
    const line = survey.at(number);
    if (namesMotion(line)) return [];
    if (line?.kind === 'move') break;
  }
  if (here.motion === 0) return [];
  if (here.motion !== 10) throw new Refused('the outline goes on with an arc that it does not name', to);
  return ['G1'];
}

/** A comment names the strokes below it: it goes where they go. */
function commentLine(now: string | null, wanted: string | null, line: number): string[] {
  if (now === wanted) return [];
  if (wanted === null) throw new Refused('no comment names it, and one would where it goes', line);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
  if (/[()\u0000-\u001f\u007f\ufffd]/.test(wanted))
    throw new Refused('the comment above it cannot be written again', line);
  return [`(${bytesAsText(wanted)})`];
}

/** Each byte of the UTF-8 form as one character, as the lines of a survey are. */
function bytesAsText(text: string): string {
  return String.fromCharCode(...new TextEncoder().encode(text));
}
