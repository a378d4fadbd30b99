const BYTES = new TextEncoder();

/** FNV-1a, 64 bit, of the UTF-8 form, as 16 hex digits. Source: draft-eastlake-fnv, section 2 (offset basis and prime). */
export function fnv1a64(text: string): string {
  let high = 0xcbf29ce4;
  let low = 0x84222325;
  for (const byte of BYTES.encode(text)) {
    low = (low ^ byte) >>> 0;
    // The prime is 2^40 + 0x1b3: a multiplication by 0x1b3, and the low word shifted by 8 into the high one.
    const lowProduct = low * 0x1b3;
    high = (high * 0x1b3 + Math.floor(lowProduct / 2 ** 32) + ((low << 8) >>> 0)) % 2 ** 32;
    low = lowProduct % 2 ** 32;
  }
  return high.toString(16).padStart(8, '0') + low.toString(16).padStart(8, '0');
}

/**
 * The text of a line without what changes when a program is re-numbered or re-indented: line numbers (`N120`), checksums
 * (`*71`) and runs of blanks.
 */
export function normalisedLine(line: string): string {
  return line
    .trim()
    .replace(/^n\d+\s*/i, '')
    .replace(/\*\d+$/, '')
    .replace(/\s+/g, ' ')
    .trim();
}

/**
 * Hands out fingerprints that survive line shifts and re-numbering: rule, message, file, and the finding's subject or,
 * without one, the text of its line; the same once more gets the next occurrence number.
 */
export class Fingerprints {
  readonly #seen = new Map<string, number>();

  next(parts: { rule: string; messageId: string; file: string; subject: string }): string {
    const key = [parts.rule, parts.messageId, parts.file, parts.subject].join('\u0000');
    const occurrence = (this.#seen.get(key) ?? 0) + 1;
    this.#seen.set(key, occurrence);
    return fnv1a64(`${key}\u0000${occurrence}`);
  }
}
