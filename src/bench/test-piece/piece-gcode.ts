import { wrapAnsi } from 'fast-wrap-ansi';
import { HOW_TO_STATE_THE_SCALE } from '../../facts/power-scale/power-scale.ts';
import type { Machine, PowerScale } from '../../job/model.ts';
import { trimmed } from '../../units/format.ts';
import { coordinate, type Piece, type PieceGroup, type PieceStroke } from './piece.ts';

/** Why no program can be written for a machine; null when one can. */
export function programProblem(machine: Machine): string | null {
  if (machine.controller.power !== null) return null;
  return `the profile of ${machine.id} does not state what full power is (controller.power), and it is never assumed. ${HOW_TO_STATE_THE_SCALE}`;
}

/**
 * A piece as a program for this machine's controller: X0 Y0 is the corner of the piece.
 * @throws RangeError when {@link programProblem} names a problem.
 */
export function pieceProgram(piece: Piece, machine: Machine, notes: readonly string[]): string {
  const { power } = machine.controller;
  if (power === null) throw new RangeError(programProblem(machine)!);
  const writer = new ProgramWriter(machine, power);
  for (const note of [piece.title, ...notes, ...piece.cautions]) writer.comment(note);
  writer.begin();
  for (const group of piece.groups) writer.group(group);
  writer.end();
  return writer.text();
}

/** Whether a program can move the waist of this machine. */
export function movesWaist(machine: Machine): boolean {
  return machine.controller.zZero === 'waist-on-face' && machine.travel.zMm !== 0;
}

/** Letters in a line of comment. */
const COMMENT_WIDTH = 76;

class ProgramWriter {
  readonly #machine: Machine;
  readonly #power: PowerScale;
  readonly #z: boolean;
  readonly #lines: string[] = [];
  #waistMm: number | null = null;

  constructor(machine: Machine, power: PowerScale) {
    this.#machine = machine;
    this.#power = power;
    this.#z = movesWaist(machine);
  }

  text(): string {
    return `${this.#lines.join('\n')}\n`;
  }

  /** Brackets end a comment, what is not ASCII is garbled by many controllers, and long lines are cut off by some (memory): several short ones. */
  comment(words: string): void {
    const plain = words
      .replace(/±/g, '+-')
      .replace(/₂/g, '2')
      .replace(/[‘’]/g, "'")
      .replace(/[–—−]/g, '-')
      .replace(/;/g, ',')
      .replace(/[()[\]{}%$]/g, ' ')
      .replace(/[^\x20-\x7e]/g, '?')
      .replace(/ {2,}/g, ' ')
      .trim();
    for (const line of wrapAnsi(plain, COMMENT_WIDTH, { hard: true }).split('\n')) this.#lines.push(`(${line})`);
  }

  begin(): void {
    this.#lines.push('G21 G90 G94', 'M8');
    const { m4 } = this.#machine.controller;
    if (this.#power.word === 'S') this.#lines.push(m4 === 'scaled-with-speed' ? 'M4 S0' : 'M3 S0');
    else this.#off();
  }

  end(): void {
    this.#off();
    if (this.#power.word === 'S') this.#lines.push('M5');
    this.#lines.push('M9');
    if (this.#z) this.#waist(0);
    this.#lines.push('G0 X0 Y0', 'M2');
  }

  group(group: PieceGroup): void {
    this.comment(group.name);
    const feed = `F${trimmed(group.speedMmPerS * 60, 1)}`;
    for (const stroke of group.strokes) {
      for (let pass = 0; pass < group.passes; pass++) this.#stroke(stroke, group, pass, feed);
    }
  }

  #stroke(stroke: PieceStroke, group: PieceGroup, pass: number, feed: string): void {
    this.#lines.push(`G0 X${coordinate(stroke.x)} Y${coordinate(stroke.y)}`);
    const ramp = stroke.segments.some((segment) => segment.waistMm !== undefined);
    if (this.#z) this.#waist(ramp ? group.focusMm : group.focusMm + pass * group.focusStepMm);
    let { x, y } = stroke;
    stroke.segments.forEach((segment, i) => {
      const z = this.#z && segment.waistMm !== undefined ? ` Z${coordinate(segment.waistMm)}` : '';
      const first = i === 0 ? ` ${this.#firstWords(group.setting, feed)}` : '';
      const { centre } = segment;
      const word = centre === undefined ? 'G1' : 'G3';
      const arc = centre === undefined ? '' : ` I${coordinate(centre.x - x)} J${coordinate(centre.y - y)}`;
      this.#lines.push(`${word} X${coordinate(segment.x)} Y${coordinate(segment.y)}${z}${arc}${first}`.trimEnd());
      if (z !== '') this.#waistMm = segment.waistMm!;
      ({ x, y } = segment);
    });
    this.#off();
  }

  /** The feed, and the power where it is a word of the move; else the power goes on a line before. */
  #firstWords(setting: number, feed: string): string {
    const { word, full } = this.#power;
    const value = trimmed(setting * full, full >= 100 ? 0 : 3);
    if (word === 'S') return `${feed} S${value}`;
    this.#lines.push(word === 'M106' ? `M106 S${value}` : `M67 E0 Q${value}`);
    return feed;
  }

  #off(): void {
    const { word } = this.#power;
    this.#lines.push(word === 'S' ? 'S0' : word === 'M106' ? 'M107' : 'M67 E0 Q0');
  }

  #waist(waistMm: number): void {
    if (this.#waistMm === waistMm) return;
    this.#waistMm = waistMm;
    this.#lines.push(`G0 Z${coordinate(waistMm)}`);
  }
}
