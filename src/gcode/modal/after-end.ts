import type { ToolpathOptions } from '../../model/reader.ts';
import type { ProblemList } from '../problems.ts';
import { type Block, bit, slot } from '../text/block.ts';

const AXES = bit('X') | bit('Y') | bit('Z');
const POWER = bit('S');
const S = slot('S');
const Q = slot('Q');
/** Codes that take axis words and move nothing: G4, G10, G92. */
const NO_MOTION: ReadonlySet<number> = new Set([40, 100, 920]);

/** How the beam is commanded when the program ends: switched on, and the number that was given for its power. */
export interface BeamAtEnd {
  on: boolean;
  raw: number;
}

/**
 * What stands behind the end of a program. A controller that stops there leaves it out, and a sender that streams line by line goes on. So
 * it is no part of the toolpath, and its motion is told, with whether the beam is commanded on by then.
 */
export class AfterEnd {
  readonly #by: string;
  readonly #word: ToolpathOptions['power']['word'];
  readonly #problems: ProblemList;
  #on: boolean;
  #raw: number;

  /** `by`: what ended the program ("M2"). */
  constructor(by: string, word: ToolpathOptions['power']['word'], beam: BeamAtEnd, problems: ProblemList) {
    this.#by = by;
    this.#word = word;
    this.#problems = problems;
    this.#on = beam.on;
    this.#raw = beam.raw;
  }

  /** Takes one block more; `ownsS`: its S word is a power. */
  block(block: Block, ownsS: boolean): void {
    for (let i = 0; i < block.mCount; i++) this.#mCode(block, block.m[i]!);
    if (ownsS && block.mask & POWER) this.#raw = block.values[S]!;
    if ((block.mask & AXES) === 0) return;
    for (let i = 0; i < block.gCount; i++) if (NO_MOTION.has(block.g[i]!)) return;
    const powered = this.#on && this.#raw > 0 ? 1 : 0;
    this.#problems.add('after-end', block.place(), { by: this.#by, powered, lines: 1 }, `${powered}`);
  }

  #mCode(block: Block, code: number): void {
    if (this.#word === 'S') {
      if (code === 30 || code === 40) this.#on = true;
      else if (code === 20 || code === 50 || code === 300) this.#on = false;
    } else if (this.#word === 'M106') {
      if (code === 1060) this.#raw = block.mask & POWER ? block.values[S]! : 1;
      else if (code === 1070) this.#raw = 0;
    } else if (code === 670 || code === 680) this.#raw = block.mask & bit('Q') ? block.values[Q]! : 0;
  }
}
