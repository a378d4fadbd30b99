import type { Sidecar } from '../model.ts';
import { folderOf, joinPath } from './paths.ts';

/** The files that a sidecar names, relative to the root; null of one that could not be read. */
export type NamedFiles = readonly string[] | null;

/** The files that a sidecar names, relative to the root; null where it could not be read. */
export function namedBy(sidecar: Sidecar | null): NamedFiles {
  if (sidecar === null) return null;
  const { file, toolpath, artwork } = sidecar;
  return [toolpath, artwork].flatMap((named) => (named === null ? [] : (joinPath(folderOf(file), named) ?? [])));
}

/**
 * What the sidecars of a run's jobs name. A sidecar is read for its job anyway, by this thread or another: what it names is told then. Only
 * what nobody has read by the end is read for this alone.
 */
export class Claims {
  readonly #named = new Set<string>();
  /** Sidecars that could not be read. */
  readonly #broken = new Set<string>();
  readonly #untold = new Set<string>();

  /** A sidecar of one of the run's jobs. */
  expect(path: string): void {
    this.#untold.add(path);
  }

  /** Takes what a sidecar names, once, where it is one of those expected. */
  told(path: string, files: NamedFiles): void {
    if (!this.#untold.delete(path)) return;
    if (files === null) this.#broken.add(path);
    else for (const file of files) this.#named.add(file);
  }

  /** Asks for all that was not told yet. */
  settle(read: (path: string) => NamedFiles): void {
    for (const path of [...this.#untold]) this.told(path, read(path));
  }

  /** Whether one of them names the file; to be asked once they are settled. */
  has(file: string): boolean {
    return this.#named.has(file);
  }

  /** Whether it is a sidecar that could not be read; to be asked likewise. */
  isBroken(path: string): boolean {
    return this.#broken.has(path);
  }

  get anyBroken(): boolean {
    return this.#broken.size > 0;
  }
}
