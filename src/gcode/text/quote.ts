/** Quoted input in a problem is at most this long. */
const QUOTE = 60;

/** Quotes a piece of the input: cut to length, control characters made visible. */
export function quote(text: string): string {
  const short = text.length > QUOTE ? `${text.slice(0, QUOTE)}…` : text;
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
  return short.replace(/[\u0000-\u001f\u007f-\u009f]/g, '�');
}
