import type { Edit } from '../../model/editing.ts';
import type { Survey, SurveyedLine } from './survey.ts';

const utf8 = new TextEncoder();

/** What becomes of one line. */
interface LineChange {
  ahead: string[];
  /** New texts of words, by where they stand. */
  words: { start: number; end: number; text: string }[];
  removed: boolean;
}

/** Gathers the changes of a program line by line, and makes edits of them: nothing of a line is touched that no change is about. */
export class Changes {
  readonly #survey: Survey;
  readonly #lines = new Map<number, LineChange>();

  constructor(survey: Survey) {
    this.#survey = survey;
  }

  /** Writes lines ahead of another; a number one beyond the last appends them. */
  ahead(line: number, texts: readonly string[]): void {
    this.#of(line).ahead.push(...texts.filter((text) => text !== ''));
  }

  /** Gives a word of a line another text; offsets count bytes of the line. */
  word(line: number, at: { start: number; end: number }, text: string): void {
    this.#of(line).words.push({ start: at.start, end: at.end, text });
  }

  remove(line: number): void {
    this.#of(line).removed = true;
  }

  /** The text of a line with its words changed. */
  textOf(line: SurveyedLine): string {
    let text = '';
    let at = 0;
    for (const { start, end, text: changed } of this.#wordsOf(line.line)) {
      text += line.text.slice(at, start) + changed;
      at = end;
    }
    return text + line.text.slice(at);
  }

  edits(): Edit[] {
    const edits: Edit[] = [];
    for (const number of [...this.#lines.keys()].sort((a, b) => a - b)) {
      const change = this.#lines.get(number)!;
      const line = this.#survey.at(number);
      if (line === null) {
        const last = this.#survey.at(number - 1);
        if (last !== null) edits.push(this.#appended(last, change.ahead));
        continue;
      }
      if (change.ahead.length > 0) edits.push(this.#inserted(line, change.ahead));
      if (change.removed) edits.push(removal(line));
      else for (const word of this.#wordsOf(number)) edits.push(replaced(line, word));
    }
    return edits;
  }

  #of(line: number): LineChange {
    const known = this.#lines.get(line);
    if (known) return known;
    const made: LineChange = { ahead: [], words: [], removed: false };
    this.#lines.set(line, made);
    return made;
  }

  #wordsOf(line: number): LineChange['words'] {
    return [...(this.#lines.get(line)?.words ?? [])].sort((a, b) => a.start - b.start);
  }

  #inserted(line: SurveyedLine, texts: readonly string[]): Edit {
    const ending = line.ending.length > 0 ? line.ending : this.#survey.ending;
    const place = { line: line.line, column: 1, endLine: line.line, endColumn: 1 };
    return { place, offset: line.offset, old: new Uint8Array(0), new: joined(texts, ending, 'behind') };
  }

  /** Lines behind the last: one that has no line break keeps none at the end of the file. */
  #appended(last: SurveyedLine, texts: readonly string[]): Edit {
    const offset = last.offset + last.bytes.length + last.ending.length;
    const open = last.ending.length === 0;
    const column = open ? columnAt(last, last.bytes.length) : 1;
    const line = open ? last.line : last.line + 1;
    const place = { line, column, endLine: line, endColumn: column };
    const ending = open ? this.#survey.ending : last.ending;
    return { place, offset, old: new Uint8Array(0), new: joined(texts, ending, open ? 'ahead' : 'behind') };
  }
}

function removal(line: SurveyedLine): Edit {
  const old = new Uint8Array(line.bytes.length + line.ending.length);
  old.set(line.bytes);
  old.set(line.ending, line.bytes.length);
  const place =
    line.ending.length > 0
      ? { line: line.line, column: 1, endLine: line.line + 1, endColumn: 1 }
      : { line: line.line, column: 1, endLine: line.line, endColumn: columnAt(line, line.bytes.length) };
  return { place, offset: line.offset, old, new: new Uint8Array(0) };
}

function replaced(line: SurveyedLine, word: LineChange['words'][number]): Edit {
  const place = {
    line: line.line,
    column: columnAt(line, word.start),
    endLine: line.line,
    endColumn: columnAt(line, word.end),
  };
  const old = line.bytes.slice(word.start, word.end);
  return { place, offset: line.offset + word.start, old, new: utf8.encode(word.text) };
}

/** Column, in UTF-16 units, of a byte of a line. */
function columnAt(line: SurveyedLine, byte: number): number {
  return new TextDecoder('utf-8', { ignoreBOM: true }).decode(line.bytes.subarray(0, byte)).length + 1;
}

/** Texts are bytes as characters where they repeat a line, and plain ASCII otherwise. */
function joined(texts: readonly string[], ending: Uint8Array, where: 'ahead' | 'behind'): Uint8Array {
  const bytes: number[] = [];
  for (const text of texts) {
    if (where === 'ahead') bytes.push(...ending);
    for (let i = 0; i < text.length; i++) bytes.push(text.charCodeAt(i) & 0xff);
    if (where === 'behind') bytes.push(...ending);
  }
  return Uint8Array.from(bytes);
}
