import { START_OF_FILE } from '../../source/place.ts';
import { type Source, SourceUnreadable, wholeText } from '../../source/source.ts';
import { nameKey } from './name-key.ts';
import { stem } from './paths.ts';
import { type FileProblem, fileProblem, type Loaded } from './problem.ts';

/**
 * Files of one kind and one rank of trust. A file's name carries its id, so a lookup by id opens one file; only a lookup by
 * another name opens all.
 */
export class Registry<T extends { id: string; file: string }> {
  readonly #sources = new Map<string, Source[]>();
  readonly #loaded = new Map<Source, Loaded<T>>();
  readonly #names = new Map<Loaded<T>, Set<string>>();
  readonly #read: (source: Source) => Loaded<T>;
  readonly #otherNames: (value: T) => string[];
  readonly #suffix: string;
  readonly #texts = new Map<Source, string | null>();

  constructor(
    sources: readonly Source[],
    suffix: string,
    read: (source: Source) => Loaded<T>,
    otherNames: (value: T) => string[],
  ) {
    this.#suffix = suffix;
    this.#read = read;
    this.#otherNames = otherNames;
    for (const source of sources) {
      if (!source.name.endsWith(suffix)) continue;
      const key = nameKey(stem(source.name, suffix));
      this.#sources.set(key, [...(this.#sources.get(key) ?? []), source]);
    }
  }

  /** Ids by file name. */
  ids(): string[] {
    return this.#files().map((source) => stem(source.name, this.#suffix));
  }

  has(id: string): boolean {
    return this.#sources.has(nameKey(id));
  }

  /** Is this very file on the shelf? */
  holds(file: string): boolean {
    return this.#files().some((source) => source.name === file);
  }

  /** The path of the file with this id, which is not opened for it; null when there is none. */
  fileOf(id: string): string | null {
    return this.#sources.get(nameKey(id))?.[0]?.name ?? null;
  }

  /** All that can be read. */
  all(): T[] {
    return this.#files().flatMap((source) => this.#load(source).value ?? []);
  }

  nameOf(path: string): string {
    return stem(path, this.#suffix);
  }

  byPath(path: string): Loaded<T> | null {
    const source = this.#files().find((one) => one.name === path);
    return source ? this.#load(source) : null;
  }

  /** The file with this id; two of them are a problem and no value. */
  byId(id: string): Loaded<T> | null {
    const sources = this.#sources.get(nameKey(id));
    if (!sources) return null;
    const [first, second] = sources;
    const loaded = this.#load(first!);
    return second
      ? { ...loaded, value: null, problems: [...loaded.problems, twice(second.name, id, first!.name)] }
      : loaded;
  }

  /** The file with this id or, failing that, with this other name; a name that two files claim is a problem and no value. */
  named(name: string): Loaded<T> | null {
    const exact = this.byId(name);
    if (exact) return exact;
    const [first, second] = this.allNamed(name);
    if (!first) return null;
    return second
      ? { ...first, value: null, problems: [...first.problems, twice(second.file, name, first.file)] }
      : first;
  }

  /** All files that go by a name. */
  allNamed(name: string): Loaded<T>[] {
    const key = nameKey(name);
    return this.#files()
      .filter((source) => this.#mayHold(source, key))
      .map((source) => this.#load(source))
      .filter((loaded) => this.#namesOf(loaded).has(key));
  }

  /** Reads every file: its problems, and each id or name that two files claim. */
  allProblems(): FileProblem[] {
    const all = this.#files().map((source) => this.#load(source));
    const problems = all.flatMap((loaded) => loaded.problems);
    const claims = new Map<string, Loaded<T>>();
    for (const loaded of all) {
      for (const key of this.#namesOf(loaded)) {
        const other = claims.get(key);
        if (other) problems.push(twice(loaded.file, key, other.file));
        else claims.set(key, loaded);
      }
    }
    return problems;
  }

  #files(): Source[] {
    return [...this.#sources.values()].flat();
  }

  #namesOf(loaded: Loaded<T>): Set<string> {
    let names = this.#names.get(loaded);
    if (names === undefined) {
      const { file, value } = loaded;
      names = new Set([stem(file, this.#suffix), ...(value ? this.#otherNames(value) : [])].map(nameKey));
      this.#names.set(loaded, names);
    }
    return names;
  }

  /**
   * Can this file go by the name? Parsing a whole catalogue for one alias takes a noticeable part of a second; a file whose
   * text does not even contain the name need not be parsed. Where YAML could spell it otherwise (escapes), it is.
   */
  #mayHold(source: Source, key: string): boolean {
    if (this.#loaded.has(source)) return true;
    let text = this.#texts.get(source);
    if (text === undefined) {
      text = searchable(source);
      this.#texts.set(source, text);
    }
    return text === null || text.includes(key) || nameKey(stem(source.name, this.#suffix)) === key;
  }

  #load(source: Source): Loaded<T> {
    let loaded = this.#loaded.get(source);
    if (!loaded) {
      loaded = this.#read(source);
      this.#loaded.set(source, loaded);
    }
    return loaded;
  }
}

function twice(file: string, name: string, other: string): FileProblem {
  return fileProblem(
    'duplicate-id',
    { file, ...START_OF_FILE },
    `"${name}" is claimed by ${other} too: give each its own id and names`,
  );
}

/** A file's text as names are compared; null when it must be parsed to be known. */
function searchable(source: Source): string | null {
  try {
    const text = wholeText(source, 1024 * 1024);
    return /\\|''/.test(text) ? null : nameKey(text);
  } catch (error) {
    if (error instanceof SourceUnreadable) return null;
    throw error;
  }
}
