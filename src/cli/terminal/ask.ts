import type { InputStream, Io } from './io.ts';

/** Asks a person at a terminal, line by line; where nobody sits there, nothing is asked and every answer is null. */
export class Asker {
  readonly #io: Io;
  #lines: AsyncIterator<string> | null = null;

  constructor(io: Io) {
    this.#io = io;
  }

  get possible(): boolean {
    return this.#io.stdin.isTTY === true;
  }

  /**
   * Puts a question until `read` takes the answer; an empty answer, or the end of the input, is null.
   * @param read gives the value, or a sentence that says what is wrong with the answer.
   */
  async ask<T>(question: string, read: (answer: string) => { value: T } | { problem: string }): Promise<T | null> {
    if (!this.possible) return null;
    this.#lines ??= linesOf(this.#io.stdin);
    for (;;) {
      this.#io.stderr.write(`${question} `);
      const next = await this.#lines.next();
      const answer = next.done ? '' : next.value.trim();
      if (answer === '') return null;
      const taken = read(answer);
      if ('value' in taken) return taken.value;
      this.#io.stderr.write(`${taken.problem}\n`);
    }
  }

  /** Lets the input go, so that the program can end. */
  async close(): Promise<void> {
    await this.#lines?.return?.(undefined);
  }
}

async function* linesOf(input: InputStream): AsyncGenerator<string> {
  const decoder = new TextDecoder();
  let rest = '';
  for await (const chunk of input) {
    rest += typeof chunk === 'string' ? chunk : decoder.decode(chunk, { stream: true });
    const lines = rest.split(/\r\n|\n|\r/);
    rest = lines.pop() ?? '';
    yield* lines;
  }
  if (rest !== '') yield rest;
}
