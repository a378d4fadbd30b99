/** Longest replacement text of an entity that is put in, and most that all of them may put in together. */
const LONGEST_ENTITY = 200;
const MOST_REPLACED = 4_000_000;

/**
 * Gives an XML tokenizer the entities of an internal document type subset whose replacement is short plain text, as drawing
 * programs write for the names of their namespaces. Entities that contain markup or other entities, and those outside the
 * file, stay unknown, so that nothing is fetched and nothing can multiply.
 */
export function plainEntities(doctype: string, known: Record<string, string>): void {
  let left = MOST_REPLACED;
  const pattern = /<!ENTITY\s+([A-Za-z_][\w.-]*)\s+(?:"([^"<&%]*)"|'([^'<&%]*)')\s*>/g;
  for (let found = pattern.exec(doctype); found; found = pattern.exec(doctype)) {
    const name = found[1]!;
    const value = found[2] ?? found[3] ?? '';
    if (value.length > LONGEST_ENTITY || Object.hasOwn(known, name)) continue;
    Object.defineProperty(known, name, {
      enumerable: true,
      get: () => {
        left -= value.length;
        return left >= 0 ? value : undefined;
      },
    });
  }
}
