import stringWidth from 'fast-string-width';

/** Rows of text as columns, each as wide on a terminal as its widest cell, two blanks between; the first row is the head. */
export function columns(rows: readonly (readonly string[])[]): string[] {
  const count = Math.max(0, ...rows.map((row) => row.length));
  const widths = Array.from({ length: count }, (_, i) => Math.max(...rows.map((row) => stringWidth(row[i] ?? ''))));
  return rows.map((row) =>
    row
      .map((cell, i) => cell + ' '.repeat(widths[i]! - stringWidth(cell)))
      .join('  ')
      .trimEnd(),
  );
}
