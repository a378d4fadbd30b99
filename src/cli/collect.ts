/** For options that may be given more than once. */
export function collect(value: string, before: string[] | undefined): string[] {
  return [...(before ?? []), value];
}
