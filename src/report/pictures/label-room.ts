/** A box on the picture, px, Y down. */
export interface LabelBox {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

/** Space that is left between two labels, px. */
const APART = 1.5;
/** Width of a letter over its size: figures and small letters of common sans-serif faces take 0.5 to 0.6, those of other scripts 1. */
const LATIN = 0.62;
const WIDE = 1.05;

/** How wide a text gets at most, in the units of its size: there is nothing here that could measure it. */
export function textWidth(text: string, size: number): number {
  let width = 0;
  for (const letter of text) width += letter < '\u0250' ? LATIN : WIDE;
  return width * size;
}

/** Room for labels: each is given its place, and whoever comes later keeps off it. */
export class LabelRoom {
  readonly #within: LabelBox | null;
  readonly #taken: LabelBox[] = [];

  /** @param within labels that reach out of this do not fit; null: there is no end. */
  constructor(within: LabelBox | null = null) {
    this.#within = within;
  }

  /** Gives the place away, whether or not it is free. */
  block(box: LabelBox): void {
    this.#taken.push(box);
  }

  /** Takes the place when it is free. */
  take(box: LabelBox): boolean {
    const { left, top, right, bottom } = box;
    const within = this.#within;
    if (within && (left < within.left || right > within.right || top < within.top || bottom > within.bottom))
      return false;
    const free = this.#taken.every(
      (other) =>
        right + APART <= other.left ||
        left - APART >= other.right ||
        bottom + APART <= other.top ||
        top - APART >= other.bottom,
    );
    if (free) this.#taken.push(box);
    return free;
  }
}

/** The box of a line of text by where it is written. */
export function labelBox(x: number, y: number, text: string, size: number, anchor: 'start' | 'mid' | 'end'): LabelBox {
  const width = textWidth(text, size);
  const left = anchor === 'start' ? x : anchor === 'mid' ? x - width / 2 : x - width;
  return { left, top: y - size, right: left + width, bottom: y + size * 0.3 };
}
