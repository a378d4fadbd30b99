/** Rows of text as columns, each as wide as its widest cell, two blanks between; the first row is the head. */
export function columns(rows: readonly (readonly string[])[]): string[] {
  const count = Math.max(0, ...rows.map((row) => row.length));
  const widths = Array.from({ length: count }, (_, i) => Math.max(...rows.map((row) => cells(row[i]))));
  return rows.map((row) =>
    row
      .map((cell, i) => cell + ' '.repeat(widths[i]! - cells(cell)))
      .join('  ')
      .trimEnd(),
  );
}

function cells(text: string | undefined): number {
  return text === undefined ? 0 : [...text].length;
}
