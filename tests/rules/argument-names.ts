/** Names of the arguments that a message's template asks for, `{name}`, in order of first use; `{{` and `}}` stand for braces. */
export function argumentNames(template: string): string[] {
  const slots = template
    .replaceAll('{{', '')
    .replaceAll('}}', '')
    .matchAll(/\{([A-Za-z][A-Za-z0-9]*)\}/g);
  return [...new Set([...slots].map(([, name = '']) => name))];
}
