/** A line with its comments blanked out, so that offsets still hold. */
export interface Uncommented {
  /** The line, each comment replaced by as many spaces. */
  code: string;
  /** Text of the last comment; null when there is none. */
  comment: string | null;
  fault: { reason: 'open' | 'stray' | 'nested'; start: number; end: number } | null;
}

/**
 * Takes both kinds of comment out of a line: `( … )` and `; …` to the end. A `;` inside parentheses is text, as in RS274.
 * Parentheses inside parentheses are no comment of RS274 and controllers differ on where such a one ends: it is read to
 * the matching parenthesis and reported.
 */
export function withoutComments(line: string): Uncommented {
  if (!line.includes('(') && !line.includes(';') && !line.includes(')'))
    return { code: line, comment: null, fault: null };
  const reading = new CommentReading(line);
  reading.read();
  return { code: reading.code, comment: reading.comment, fault: reading.fault };
}

/** One line on its way through `withoutComments`. */
class CommentReading {
  code = '';
  comment: string | null = null;
  fault: Uncommented['fault'] = null;
  readonly #line: string;
  #depth = 0;
  #opened = 0;
  #nested = false;

  constructor(line: string) {
    this.#line = line;
  }

  read(): void {
    const line = this.#line;
    for (let i = 0; i < line.length; i++) {
      const c = line[i]!;
      if (this.#depth === 0 && c === ';') {
        this.comment = line.slice(i + 1).trim();
        this.code += ' '.repeat(line.length - i);
        break;
      }
      if (c === '(') this.#open(i);
      else if (c === ')') this.#close(i);
      this.code += this.#depth > 0 || c === ')' ? ' ' : c;
    }
    if (this.#depth > 0) {
      this.comment = line.slice(this.#opened + 1).trim();
      this.fault ??= { reason: 'open', start: this.#opened, end: line.length };
    }
  }

  #open(at: number): void {
    if (this.#depth === 0) this.#opened = at;
    else this.#nested = true;
    this.#depth++;
  }

  #close(at: number): void {
    if (this.#depth === 0) {
      this.fault ??= { reason: 'stray', start: at, end: at + 1 };
      return;
    }
    if (--this.#depth > 0) return;
    this.comment = this.#line.slice(this.#opened + 1, at).trim();
    if (this.#nested) this.fault ??= { reason: 'nested', start: this.#opened, end: at + 1 };
    this.#nested = false;
  }
}
