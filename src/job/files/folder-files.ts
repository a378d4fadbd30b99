import type { Reader } from '../../model/reader.ts';
import type { FileAccess } from './access.ts';
import type { Excluded } from './exclude.ts';
import { type FileKind, kindInFolder, kindOfName } from './file-kind.ts';
import { type LeftOut, NOTHING_PASSED_BY, type PassedBy, REASONS } from './left-out.ts';
import { type WalkStep, walkFolder } from './walk.ts';

/** So many files that matter to jobs, or are told as left out, are kept. */
const MOST_KEPT = 1_000_000;

/** Paths by what the files hold. */
export type LooseFiles = Record<Reader['makes'], string[]>;

/** What a search found in one folder and below, in no certain order: kept are the paths of what matters to a job, the rest is counted. */
export interface FolderFiles {
  sidecars: string[];
  loose: LooseFiles;
  leftOut: LeftOut[];
  /** Files of jobs in hidden folders, by the outermost of these. */
  hidden: Map<string, { path: string; kind: Reader['makes'] | 'sidecar' }[]>;
  passedBy: PassedBy;
}

type Met = Extract<WalkStep, { what: 'file' | 'link' | 'special' }>;

/** Looks through a folder. Paths are relative to the root. */
export function filesOfFolder(
  access: FileAccess,
  readers: readonly Reader[],
  folder: string,
  excluded: Excluded,
): FolderFiles {
  const files: FolderFiles = {
    sidecars: [],
    loose: { toolpath: [], artwork: [] },
    leftOut: [],
    hidden: new Map(),
    passedBy: { ...NOTHING_PASSED_BY },
  };
  const full = () =>
    files.sidecars.length + files.loose.toolpath.length + files.loose.artwork.length + files.leftOut.length > MOST_KEPT;
  const sorting = new Sorting(access, readers, files);
  for (const step of walkFolder(access, folder, { excluded, intoHidden: true, full })) sorting.take(step);
  for (const [path, held] of files.hidden) if (held.length === 0) sorting.emptyHidden(path);
  return files;
}

class Sorting {
  readonly #access: FileAccess;
  readonly #readers: readonly Reader[];
  readonly #files: FolderFiles;

  constructor(access: FileAccess, readers: readonly Reader[], files: FolderFiles) {
    this.#access = access;
    this.#readers = readers;
    this.#files = files;
  }

  take(step: WalkStep): void {
    const { passedBy, hidden } = this.#files;
    switch (step.what) {
      case 'passed':
        passedBy[({ settings: 'excluded', git: 'git', node_modules: 'nodeModules' } as const)[step.by]]++;
        break;
      case 'hidden-folder':
        hidden.set(step.path, []);
        break;
      case 'unlisted':
        this.#leave(step.path, 'folder', REASONS.unlisted(step.problem), 'always');
        break;
      case 'cut-short':
        if (step.hidden !== null) this.#leave(step.hidden, 'folder', REASONS.hiddenTooLarge, 'always');
        else this.#leave(step.path, 'folder', step.why === 'too-deep' ? REASONS.tooDeep : REASONS.tooMany, 'always');
        break;
      case 'file':
        if (step.unnameable) this.#unread(step, REASONS.unnameable);
        else this.#file(step);
        break;
      case 'link':
        this.#link(step);
        break;
      case 'special':
        this.#unread(step, REASONS.special);
    }
  }

  emptyHidden(path: string): void {
    this.#files.hidden.delete(path);
    this.#files.passedBy.hiddenFolders++;
  }

  #file({ path, hidden }: Met): void {
    const kind = kindInFolder(this.#readers, path, () => this.#access.open(path));
    const { sidecars, loose, passedBy } = this.#files;
    if (kind.is === 'sidecar' || kind.is === 'toolpath' || kind.is === 'artwork') {
      if (hidden !== null) this.#files.hidden.get(hidden)?.push({ path, kind: kind.is });
      else if (kind.is === 'sidecar') sidecars.push(path);
      else loose[kind.is].push(path);
    } else if (kind.is === 'nothing') passedBy.otherFiles++;
    else this.#odd(path, kind, hidden);
  }

  #odd(path: string, kind: FileKind, hidden: string | null): void {
    if (kind.is === 'unreadable') this.#leave(path, 'other', REASONS.unreadable(kind.reason), 'always');
    else if (kind.is === 'odd-sidecar') this.#leave(path, 'sidecar', REASONS.sidecarName, 'always');
    else if (hidden !== null) return;
    else if (kind.is === 'odd-profile') this.#leave(path, 'other', kind.reason, 'never');
    else if (kind.is === 'other-drawing') {
      this.#leave(path, kind.makes ?? 'other', kind.reason, kind.makes ?? 'never');
    }
  }

  #link(step: Met): void {
    const stat = this.#access.stat(step.path);
    if (step.unnameable) this.#unread(step, REASONS.unnameable);
    else if (stat === null) this.#unread(step, REASONS.linkNowhere);
    else if (stat.kind !== 'folder') this.#linkToFile(step.path);
    else if (stat.leavesRoot) this.#leave(step.path, 'folder', REASONS.linkOutside, 'always');
    else this.#leave(step.path, 'folder', REASONS.linkToFolder, 'never');
  }

  /** By its own name or by what it leads to. */
  #linkToFile(path: string): void {
    const kind = kindInFolder(this.#readers, path, () => this.#access.open(path));
    if (kind.is === 'unreadable') this.#leave(path, 'other', REASONS.link, 'always');
    else this.#unopened(path, kind, REASONS.link);
  }

  /** Something that cannot be opened, and may be a file of a job by its name. */
  #unread({ path }: Met, reason: string): void {
    this.#unopened(path, kindOfName(this.#readers, path), reason);
  }

  #unopened(path: string, kind: FileKind, reason: string): void {
    if (kind.is === 'toolpath' || kind.is === 'artwork') this.#leave(path, kind.is, reason, kind.is);
    else if (kind.is === 'sidecar' || kind.is === 'odd-sidecar') this.#leave(path, 'sidecar', reason, 'always');
    else this.#files.passedBy.otherFiles++;
  }

  #leave(path: string, kind: LeftOut['kind'], reason: string, weighs: LeftOut['weighs']): void {
    this.#files.leftOut.push({ path, kind, reason, weighs });
  }
}
