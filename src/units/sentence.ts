/** A name or sentence as it stands inside another: its first letter lowered, unless it is an abbreviation ("PVC", "G0", "X 640"). */
export function inSentence(text: string): string {
  return /^(?:\p{Lu}\p{Ll}|A )/u.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text;
}

/** A name at the start of a sentence: its first letter raised. */
export function atStart(name: string): string {
  return name.charAt(0).toUpperCase() + name.slice(1);
}

/** The first sentence of a text, without its full stop. A stop inside double quotes ends none: there a file is quoted. */
export function firstSentence(text: string): string {
  let quoted = false;
  for (let i = 0; i < text.length; i++) {
    const unit = text.charAt(i);
    if (unit === '"') quoted = !quoted;
    const last = i + 1 === text.length || text.charAt(i + 1) === ' ';
    if (!quoted && last && (unit === '.' || unit === '?' || unit === '!'))
      return text.slice(0, unit === '.' ? i : i + 1);
  }
  return withoutStop(text);
}

/** A text without the stops and blanks at its end, to be gone on with. */
export function withoutStop(text: string): string {
  let end = text.length;
  while (end > 0 && (text.charAt(end - 1) === '.' || text.charAt(end - 1) === ' ')) end--;
  return text.slice(0, end);
}

/** A text as a sentence: with a full stop, unless it ends with a mark of its own. */
export function stopped(text: string): string {
  return /[.?!…]$/.test(text) ? text : `${text}.`;
}

/** A text no longer than so many UTF-16 units; what was cut off is shown by an ellipsis. */
export function shortenedTo(units: number, text: string): string {
  return text.length <= units ? text : `${text.slice(0, units - 1)}…`;
}
