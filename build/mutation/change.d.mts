/** A file's text with the mutant of this name in it. */
export function changed(text: string, name: string): string;
