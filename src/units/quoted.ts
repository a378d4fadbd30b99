/** Longest piece of a user's text that a message repeats, UTF-16 units. */
const LONGEST = 60;

/** What a user wrote, as a message repeats it: in double quotes, on one line, cut at 60 units. Never throws, whatever a file held. */
export function quoted(input: unknown): string {
  if (typeof input === 'object' && input !== null) return Array.isArray(input) ? 'a list' : 'a set of keys';
  const flat = String(input)
    // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what must not reach a terminal
    .replace(/[\u0000-\u001f\u007f-\u009f]+/g, ' ')
    .trim();
  return flat.length > LONGEST ? `"${flat.slice(0, LONGEST - 1)}…"` : `"${flat}"`;
}
