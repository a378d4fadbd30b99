/**
 * A second reading of programs, for tests alone and by another hand than the one that mends: words in the order of RS274/NGC
 * [NISTIR-6556, table 8], G0 to G3 with I and J, G4, G20/G21, G90/G91, M3, M4, M5 and S. Nothing else is in the programs that tests make.
 */
export interface SimulatedCut {
  /** Rounded to a ten-thousandth of a mm, so that it can be a key. */
  key: string;
  s: number;
  /** mm/min. */
  f: number;
}

export interface Simulated {
  cuts: SimulatedCut[];
  /** Moves without the beam, as keys, those of no length left out. */
  travels: string[];
  /** Whether the beam is on, for each dwell. */
  dwells: { beam: boolean; seconds: number }[];
  /** Places where the beam is switched on or left on while a dwell goes on. */
  ends: { beam: boolean };
}

export function simulate(text: string): Simulated {
  const run = new Run();
  for (const line of text.replace(/^\uFEFF/, '').split(/\r\n|\n|\r/)) if (!run.line(line)) break;
  run.found.ends.beam = run.beam;
  return run.found;
}

const key = (...values: number[]) => values.map((value) => (Math.round(value * 1e3) / 1e3 + 0).toFixed(3)).join(' ');

/** What is in force, and what came of it so far. */
class Run {
  readonly found: Simulated = { cuts: [], travels: [], dwells: [], ends: { beam: false } };
  #x = 0;
  #y = 0;
  #motion = 1;
  #absolute = true;
  #scale = 1;
  #on = false;
  #s = 0;
  #f = 0;

  get beam(): boolean {
    return this.#on && this.#s > 0;
  }

  /** False at the program's end. */
  line(line: string): boolean {
    const words = new Map<string, number>();
    const g: number[] = [];
    const m: number[] = [];
    for (const [, letter, number] of line.replace(/\([^)]*\)|;.*/g, '').matchAll(/([A-Z])\s*([-+.\d]+)/gi)) {
      if (letter === 'G') g.push(Number(number));
      else if (letter === 'M') m.push(Number(number));
      else words.set(letter!.toUpperCase(), Number(number));
    }
    this.#modes(words, g, m);
    if (g.includes(4)) this.found.dwells.push({ beam: this.beam, seconds: words.get('P') ?? 0 });
    if (m.includes(0)) this.found.dwells.push({ beam: this.beam, seconds: Number.POSITIVE_INFINITY });
    if (['X', 'Y', 'I', 'J'].some((letter) => words.has(letter))) this.#move(words);
    return !m.includes(2) && !m.includes(30);
  }

  #modes(words: ReadonlyMap<string, number>, g: readonly number[], m: readonly number[]): void {
    if (g.includes(20)) this.#scale = 25.4;
    if (g.includes(21)) this.#scale = 1;
    this.#f = words.has('F') ? words.get('F')! * this.#scale : this.#f;
    if (!g.includes(4)) this.#s = words.get('S') ?? this.#s;
    for (const code of m) if (code >= 3 && code <= 5) this.#on = code < 5;
    if (g.includes(90)) this.#absolute = true;
    if (g.includes(91)) this.#absolute = false;
    this.#motion = g.find((code) => code <= 3) ?? this.#motion;
  }

  #move(words: ReadonlyMap<string, number>): void {
    const scaled = (letter: string) => (words.get(letter) ?? 0) * this.#scale;
    const to = (axis: string, now: number) => (words.has(axis) ? scaled(axis) + (this.#absolute ? 0 : now) : now);
    const [x, y] = [to('X', this.#x), to('Y', this.#y)];
    const centre = this.#motion > 1 ? [this.#x + scaled('I'), this.#y + scaled('J')] : [];
    const name = key(Math.max(1, this.#motion), this.#x, this.#y, x, y, ...centre);
    if (this.#motion > 0 && this.beam) this.found.cuts.push({ key: name, s: this.#s, f: this.#f });
    else if (Math.hypot(x - this.#x, y - this.#y) > 1e-4) this.found.travels.push(name);
    this.#x = x;
    this.#y = y;
  }
}
