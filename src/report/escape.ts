/**
 * Escaping of text from users' files for the programs that read our output. Every format escapes through this module and
 * nowhere else.
 */

/** Controls of C0 and C1, DEL, line and paragraph separators, and the characters that turn the direction of text. */
const UNSEEN = /[\p{Cc}\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]/gu;
const LONE_SURROGATE = /\p{Surrogate}/gu;
/** A runner still takes `##[command]` for a command, wherever it stands in a line. */
const OLD_COMMAND = /##\[/g;

function escaped(unit: string): string {
  const code = unit.charCodeAt(0);
  return code < 0x100 ? `\\x${code.toString(16).padStart(2, '0')}` : `\\u${code.toString(16).padStart(4, '0')}`;
}

/** Text that is text in every encoding: half surrogate pairs become U+FFFD. */
export function wellFormed(text: string): string {
  return text.replace(LONE_SURROGATE, '\ufffd');
}

/** One line for a terminal or a log: what would be acted on instead of shown is shown as an escape (`\x1b`, `\u202e`). */
export function escapeTerminal(text: string): string {
  return text.replace(UNSEEN, escaped).replace(LONE_SURROGATE, escaped).replace(OLD_COMMAND, '##\\x5b');
}

/** A line of a user's file for a terminal: like `escapeTerminal`, with each tab as one blank, so that columns keep their places. */
export function escapeSourceLine(line: string): string {
  return escapeTerminal(line.replaceAll('\t', ' '));
}

/** The message of a workflow command. Source: GitHub's @actions/core, command.ts, escapeData. */
export function commandData(text: string): string {
  const shown = text
    .split(/\r\n|\n|\r/)
    .map(escapeTerminal)
    .join('\n');
  return shown.replaceAll('%', '%25').replaceAll('\n', '%0A');
}

/** A property of a workflow command. Source: GitHub's @actions/core, command.ts, escapeProperty. */
export function commandProperty(text: string): string {
  return escapeTerminal(text).replaceAll('%', '%25').replaceAll(':', '%3A').replaceAll(',', '%2C');
}

/** Text for HTML, as content or inside a quoted attribute. */
export function escapeHtml(text: string): string {
  return (
    wellFormed(text)
      .replace(UNSEEN, (unit) => (unit === '\n' || unit === '\t' ? unit : escaped(unit)))
      .replaceAll('&', '&amp;')
      .replaceAll('<', '&lt;')
      .replaceAll('>', '&gt;')
      .replaceAll('"', '&quot;')
      .replaceAll("'", '&#39;')
      // A page that is printed into a runner's log must hold no command.
      .replaceAll('::', '&#58;:')
      .replaceAll('##[', '##&#91;')
  );
}

/**
 * Text for XML 1.0, as content or inside a quoted attribute: one line, and of the characters that XML knows (its production
 * `Char` leaves out U+FFFE and U+FFFF).
 */
export function escapeXml(text: string): string {
  return (
    escapeTerminal(text)
      .replace(/[\ufffe\uffff]/g, '\ufffd')
      .replaceAll('&', '&amp;')
      .replaceAll('<', '&lt;')
      .replaceAll('>', '&gt;')
      .replaceAll('"', '&quot;')
      .replaceAll("'", '&#39;')
      // Printed into a runner's log, a line of content must be no command.
      .replaceAll('::', '&#58;:')
  );
}

/** Text inside a comment of XML: there are no two hyphens (XML 1.0, 2.5): the second becomes one at which no line breaks, which looks the same. */
export function commented(text: string): string {
  return escapeXml(text).replace(/-(-|$)/g, '-\u2011');
}

/**
 * Text inside a line of GitHub-flavoured Markdown, behind a list mark or in a table cell: it stays on the line and is never
 * markup, link, mention, emoji or formula.
 */
export function escapeMarkdown(text: string): string {
  return escapeTerminal(text.replace(/\s+/g, (blanks) => (/[\r\n]/.test(blanks) ? ' ' : blanks)))
    .replace(/[\\`*_~[\]|#:$]/g, '\\$&')
    .replace(/www\./gi, (host) => `${host.slice(0, -1)}\\.`)
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('@', '&#64;');
}

/** Lines of a user's file as a fenced block of Markdown; the fence is longer than any that the lines contain. */
export function fencedBlock(lines: readonly string[], language = ''): string {
  // Printed into a runner's log, a line that begins with `::` would be a command.
  const shown = lines.map((line) => escapeSourceLine(line).replace(/^(\s*)::/, '$1\\x3a:'));
  const longest = Math.max(2, ...shown.flatMap((line) => [...line.matchAll(/`+/g)].map((run) => run[0].length)));
  const fence = '`'.repeat(longest + 1);
  return [`${fence}${language}`, ...shown, fence].join('\n');
}

/**
 * Plain text of a SARIF message: visible line by line, and what looks like an embedded link is not one (SARIF 2.1.0, 3.11.6).
 */
export function escapeSarif(text: string): string {
  const shown = text
    .split(/\r\n|\n|\r/)
    .map(escapeTerminal)
    .join('\n');
  return /\]\s*\(/.test(shown) ? shown.replace(/[\\[\]]/g, '\\$&') : shown;
}

/** A path relative to the root as a URI reference, per RFC 3986: each segment percent-encoded, no `./` in front. */
export function relativeUri(path: string): string {
  return wellFormed(path)
    .replace(/^(\.\/)+/, '')
    .split('/')
    .map((segment) =>
      encodeURIComponent(segment).replace(/[!'()*]/g, (c) => `%${c.charCodeAt(0).toString(16).toUpperCase()}`),
    )
    .join('/');
}

/**
 * One cell of a CSV file by RFC 4180. Text that a spreadsheet would take for a formula gets an apostrophe in front
 * (OWASP, "CSV Injection"); numbers are numbers and stay as they are.
 */
export function csvCell(value: string | number | null): string {
  if (value === null) return '';
  if (typeof value === 'number') return String(value);
  const shown = escapeTerminal(value);
  const defused = /^\s*[=+\-@＝＋－＠]/u.test(shown) ? `'${shown}` : shown;
  return /[",;\r\n']/.test(defused) ? `"${defused.replaceAll('"', '""')}"` : defused;
}

/** Serialised JSON that means the same and is harmless to print: no raw control, no turned text, no old-style command. */
export function jsonText(serialised: string): string {
  return serialised
    .replace(
      /[\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]/g,
      (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`,
    )
    .replace(OLD_COMMAND, '##\\u005b');
}
