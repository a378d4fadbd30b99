import { parse } from 'svg-parser';

/** An instruction with more text than this, UTF-16 units, is not looked into. */
const LONGEST = 10_000;

/**
 * What stands as `name="value"` in a processing instruction (Associating Style Sheets with XML documents 1.0, §3): the tokenizer hands
 * that over as one text. svg-parser reads it as the attributes of a tag. Null where it is not written so.
 */
export function pseudoAttributes(text: string): Readonly<Record<string, string>> | null {
  if (text.length > LONGEST) return null;
  try {
    const [tag] = parse(`<instruction ${text}/>`).children;
    if (tag.type !== 'element' || tag.tagName !== 'instruction' || tag.children.length > 0) return null;
    return Object.fromEntries(
      Object.entries(tag.properties ?? {}).flatMap(([name, value]) =>
        // The parser makes numbers of what looks like one, and then nobody knows how it was written; backslashes it doubles.
        typeof value === 'string' ? [[name, value.replaceAll('\\\\', '\\')]] : [],
      ),
    );
  } catch {
    // It throws on what is no tag.
    return null;
  }
}
