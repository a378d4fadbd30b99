/** A message could not be filled in: a bug of the rule, never a mistake of the user. */
export class MessageError extends Error {
  override readonly name = 'MessageFault';
}

const SLOT = /\{\{|\}\}|\{([A-Za-z][A-Za-z0-9]*)\}/g;

/**
 * Fills `{name}` in a rule's template; `{{` and `}}` stand for braces.
 * @throws MessageError when an argument is missing or is a number that is not finite
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

/** Names of the arguments that a message's template asks for, `{name}`, in order of first use; `{{` and `}}` stand for braces. */
export function argumentNames(template: string): string[] {
  const slots = template
    .replaceAll('{{', '')
    .replaceAll('}}', '')
    .matchAll(/\{([A-Za-z][A-Za-z0-9]*)\}/g);
  return [...new Set([...slots].map(([, name = '']) => name))];
}
