import { escapeTerminal } from '../../report/escape.ts';
import { fixed, formatTime } from '../../units/format.ts';
import type { OutputStream } from '../terminal/io.ts';

/** A file is read in silence for so long. */
const SILENT_MS = 500;
/** Lines on a terminal are renewed, and lines in a log added, at most this often. */
const TERMINAL_MS = 100;
const LOG_MS = 5000;
const MB = 1e6;

/** Tells on stderr how far a long read is: bytes, rate, time left. Renews one line on a terminal; adds few to a log. */
export class Progress {
  readonly #out: OutputStream;
  readonly #now: () => number;
  #file = '';
  #bytes = 0;
  #started = 0;
  #told = 0;
  #width = 0;

  constructor(out: OutputStream, now: () => number = Date.now) {
    this.#out = out;
    this.#now = now;
  }

  /** Called as bytes come in. */
  read(file: string, bytes: number, size: number): void {
    const now = this.#now();
    // No more bytes than before: the same file is read once more.
    const anew = file !== this.#file || bytes <= this.#bytes;
    this.#bytes = bytes;
    if (anew) {
      this.clear();
      this.#file = file;
      this.#started = now;
      this.#told = Number.NEGATIVE_INFINITY;
    }
    const elapsed = now - this.#started;
    if (elapsed < SILENT_MS || now - this.#told < (this.#out.isTTY ? TERMINAL_MS : LOG_MS)) return;
    this.#told = now;
    const rate = (bytes / elapsed) * 1000;
    const left = Math.max(0, (size - bytes) / rate);
    const line = `reading ${escapeTerminal(file)}: ${fixed(bytes / MB, 1)} of ${fixed(size / MB, 1)} MB, ${fixed(rate / MB, 1)} MB/s, ${formatTime(Math.ceil(left))} left`;
    if (this.#out.isTTY) {
      const shown = line.slice(0, Math.max(20, (this.#out.columns ?? 80) - 1));
      this.#out.write(`\r${shown.padEnd(this.#width)}`);
      this.#width = shown.length;
    } else {
      this.#out.write(`${line}\n`);
    }
  }

  /** Takes the line off the terminal. */
  clear(): void {
    if (this.#width > 0) this.#out.write(`\r${' '.repeat(this.#width)}\r`);
    this.#width = 0;
  }
}
