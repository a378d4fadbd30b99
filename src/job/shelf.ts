import { START_OF_FILE } from '../source/place.ts';
import type { Source } from '../source/source.ts';
import { stem } from './paths.ts';
import { type FileProblem, fileProblem, type Loaded } from './problem.ts';

/** How names are compared: case, spaces, `-` and `_`, and look-alike forms of one character (Unicode NFKC) make no difference. */
export function nameKey(name: string): string {
  return name
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[\s_\u00ad\u200b-\u200f\u2060\ufeff-]+/g, '-')
    .replace(/^-|-$/g, '');
}

/**
 * Files of one kind and one rank of trust. A file's name carries its id, so a lookup by id opens one file; only a lookup by
 * another name opens all.
 */
export class Shelf<T extends { id: string; file: string }> {
  readonly #sources = new Map<string, Source[]>();
  readonly #loaded = new Map<Source, Loaded<T>>();
  readonly #read: (source: Source) => Loaded<T>;
  readonly #otherNames: (value: T) => string[];
  readonly #suffix: string;
  #byName: Map<string, Set<Loaded<T>>> | null = null;

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
    return [...this.#sources.values()].flat().map((source) => stem(source.name, this.#suffix));
  }

  has(id: string): boolean {
    return this.#sources.has(nameKey(id));
  }

  /** Is this very file on the shelf? */
  holds(file: string): boolean {
    return [...this.#sources.values()].flat().some((source) => source.name === file);
  }

  nameOf(path: string): string {
    return stem(path, this.#suffix);
  }

  byPath(path: string): Loaded<T> | null {
    const source = [...this.#sources.values()].flat().find((one) => one.name === path);
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
    return [...(this.#names().get(nameKey(name)) ?? [])];
  }

  /** Reads every file: its problems, and each id or name that two files claim. */
  allProblems(): FileProblem[] {
    const problems = this.#all().flatMap((loaded) => loaded.problems);
    for (const [name, claims] of this.#names()) {
      const [first, second] = claims;
      if (first && second) problems.push(twice(second.file, name, first.file));
    }
    return problems;
  }

  #all(): Loaded<T>[] {
    return [...this.#sources.values()].flat().map((source) => this.#load(source));
  }

  #names(): Map<string, Set<Loaded<T>>> {
    if (this.#byName) return this.#byName;
    const names = new Map<string, Set<Loaded<T>>>();
    for (const loaded of this.#all()) {
      const { value } = loaded;
      for (const name of [stem(loaded.file, this.#suffix), ...(value ? this.#otherNames(value) : [])]) {
        const key = nameKey(name);
        const claims = names.get(key) ?? new Set();
        names.set(key, claims.add(loaded));
      }
    }
    this.#byName = names;
    return names;
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
