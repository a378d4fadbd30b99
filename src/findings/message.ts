/** A message could not be put together: the rule's own fault, never the user's. */
export class MessageError extends Error {
  override readonly name = 'MessageFault';
}

const SLOT = /\{\{|\}\}|\{([A-Za-z][A-Za-z0-9]*)\}/g;

/** Names of the arguments that a template asks for, in order of first use. */
export function argumentNames(template: string): string[] {
  const names = new Set<string>();
  for (const match of template.matchAll(SLOT)) if (match[1] !== undefined) names.add(match[1]);
  return [...names];
}

/**
 * Fills `{name}` in a rule's template; `{{` and `}}` stand for braces.
 * @throws MessageFault when an argument is missing or is a number that is not finite
 */
export function renderMessage(template: string, args: Readonly<Record<string, string | number>>): string {
  return template.replace(SLOT, (slot, name: string | undefined) => {
    if (name === undefined) return slot.charAt(0);
    const value = Object.hasOwn(args, name) ? args[name] : undefined;
    if (value === undefined) throw new MessageError(`the argument "${name}" is missing`);
    if (typeof value === 'number') {
      if (!Number.isFinite(value)) throw new MessageError(`the argument "${name}" is ${value}`);
      return String(value === 0 ? 0 : value);
    }
    return value;
  });
}
