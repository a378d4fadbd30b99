/**
 * A text with each span from `open` to the nearest `close` put otherwise; a span that is never closed stays as it is. Reads the text
 * once, where a pattern would look for the end again from every `open`.
 */
export function replaceSpans(text: string, open: string, close: string, put: (span: string) => string): string {
  let done = '';
  let at = 0;
  for (let from = text.indexOf(open); from >= 0; from = text.indexOf(open, at)) {
    const end = text.indexOf(close, from + open.length);
    if (end < 0) break;
    done += text.slice(at, from) + put(text.slice(from, end + close.length));
    at = end + close.length;
  }
  return done + text.slice(at);
}
