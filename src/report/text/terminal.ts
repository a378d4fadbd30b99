/** Painting for terminals, by SGR codes of ECMA-48. */
export type Painter = (style: Style, text: string) => string;

export type Style = 'bold' | 'dim' | 'red' | 'yellow' | 'blue' | 'green';

const CODES: Record<Style, [on: number, off: number]> = {
  bold: [1, 22],
  dim: [2, 22],
  red: [31, 39],
  yellow: [33, 39],
  blue: [34, 39],
  green: [32, 39],
};

export function painter(colour: boolean): Painter {
  return (style, text) =>
    colour && text !== '' ? `\u001b[${CODES[style][0]}m${text}\u001b[${CODES[style][1]}m` : text;
}

const NO_WIDTH = /[\p{Mn}\p{Me}\p{Cf}]/u;
/** Wide by Unicode Standard Annex 11, to the blocks that fonts draw two cells wide. */
const TWO_WIDE =
  /[\u1100-\u115f\u2e80-\u303e\u3041-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe6f\uff00-\uff60\uffe0-\uffe6\u{20000}-\u{3fffd}]|\p{Emoji_Presentation}/u;

const ONE_EACH = /^[ -~\u00a1-\u00ac\u00ae-\u02ff]*$/;

/** Cells that a text takes on a terminal. */
export function cells(text: string): number {
  if (ONE_EACH.test(text)) return text.length;
  let sum = 0;
  for (const character of text) sum += NO_WIDTH.test(character) ? 0 : TWO_WIDE.test(character) ? 2 : 1;
  return sum;
}

/** Breaks a text at blanks into lines of at most `width` cells; a word that is longer stands alone and is not broken. */
export function wrap(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/ +/)) {
    if (line !== '' && cells(line) + 1 + cells(word) > width) {
      lines.push(line);
      line = word;
    } else {
      line = line === '' ? word : `${line} ${word}`;
    }
  }
  lines.push(line);
  return lines;
}
