import { LabelRoom, labelBox, textWidth } from './label-room.ts';
import { svgText } from './picture-parts.ts';

/** Bold letters are so much wider. */
const BOLD = 1.12;

/** Words of a picture: `classes` are those of the picture style; `t-mid`, `t-end` and `t-bold` count in where they reach to. */
export interface Words {
  readonly text: string;
  readonly size: number;
  readonly classes?: string;
}

/** Blanks at which a line may end: a number keeps its unit. */
const BETWEEN = / (?!(?:mm|mm\/s|%|W|s|min)(?:[ .,;:]|$))/;

/** Words in lines no wider than so much; a word that is wider has a line of its own. */
export function wrappedTo(width: number, text: string, size: number): string[] {
  const lines: string[] = [];
  for (const word of text.split(BETWEEN)) {
    const line = lines.at(-1);
    if (line !== undefined && textWidth(`${line} ${word}`, size * BOLD) <= width) lines[lines.length - 1] += ` ${word}`;
    else lines.push(word);
  }
  return lines;
}

/** Words cut off where they would be wider than so much, as if they were bold; an ellipsis shows it. */
export function fittedTo(width: number, text: string, size: number): string {
  if (textWidth(text, size * BOLD) <= width) return text;
  const letters = [...text];
  while (letters.length > 1 && textWidth(`${letters.join('')}…`, size * BOLD) > width) letters.pop();
  return `${letters.join('').trimEnd()}…`;
}

/**
 * Words placed one after the other, what matters most first: each takes the first of its places that is free; where none is it is dropped,
 * so that no two ever overlap.
 */
export class PlacedWords {
  readonly #room: LabelRoom;

  /** @param within words that reach out of this do not fit. */
  constructor(within: { left: number; top: number; right: number; bottom: number }) {
    this.#room = new LabelRoom(within);
  }

  /** Keeps words off a square around a place. */
  keepOff(x: number, y: number, half: number): void {
    this.#room.block({ left: x - half, top: y - half, right: x + half, bottom: y + half });
  }

  /** The words as SVG; empty where no place is free. */
  place({ text, size, classes = '' }: Words, places: readonly { x: number; y: number }[]): string {
    const drawn = classes.includes('t-bold') ? size * BOLD : size;
    const anchor = classes.includes('t-end') ? 'end' : classes.includes('t-mid') ? 'mid' : 'start';
    const at = places.find(({ x, y }) => this.#room.take(labelBox(x, y, text, drawn, anchor)));
    return at ? svgText(at.x, at.y, size, text, classes) : '';
  }
}
