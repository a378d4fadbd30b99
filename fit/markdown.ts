/** A table; cells are plain text. */
export function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`;
  return [line(head), line(head.map(() => '---')), ...rows.map(line)].join('\n');
}

export const two = (value: number) => signless(value.toFixed(2));
export const three = (value: number) => signless(value.toFixed(3));
/** With its sign, and a true minus. */
export const signed = (value: number) => {
  const text = two(value);
  return Number(text) === 0 ? '0.00' : value > 0 ? `+${text}` : text;
};
export const percent = (share: number) => `${Math.round(100 * share)} %`;

function signless(text: string): string {
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−');
}
