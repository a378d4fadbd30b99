/** Painting for terminals, by SGR codes of ECMA-48. */
export type Painter = (style: Style, text: string) => string;

export type Style = 'bold' | 'dim' | 'red' | 'yellow' | 'blue';

const CODES: Record<Style, [on: number, off: number]> = {
  bold: [1, 22],
  dim: [2, 22],
  red: [31, 39],
  yellow: [33, 39],
  blue: [34, 39],
};

export function painter(colour: boolean): Painter {
  return (style, text) =>
    colour && text !== '' ? `\u001b[${CODES[style][0]}m${text}\u001b[${CODES[style][1]}m` : text;
}
