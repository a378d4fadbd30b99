/** Names in a sentence: "a, b or c" for the word "or". */
export function inARow(names: readonly string[], last: string): string {
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} ${last} ${names.at(-1)}`;
}
