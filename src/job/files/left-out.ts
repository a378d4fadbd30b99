/** What kinds of files may be left unjudged without the run being incomplete for it. */
export interface Unchecked {
  toolpath: 'incomplete' | 'note';
  artwork: 'incomplete' | 'note';
}

/** A toolpath that nobody judged may be run; artwork is made into one first. */
export const UNCHECKED: Unchecked = { toolpath: 'incomplete', artwork: 'note' };

/** A file or folder among those searched that was not judged. */
export interface LeftOut {
  path: string;
  kind: 'toolpath' | 'artwork' | 'sidecar' | 'folder' | 'other';
  /** Why, and what to do about it; without the path, so that those of one reason can be told together. */
  reason: string;
  /** Whether the run is incomplete for it: as the settings say of unjudged toolpaths or artwork, always, or never. */
  weighs: keyof Unchecked | 'always' | 'never';
}

/** How much was passed by without a look, or is no file of a job by its name. */
export interface PassedBy {
  /** Files and folders that the settings exclude. */
  excluded: number;
  git: number;
  nodeModules: number;
  /** Hidden folders that hold no file of a job. */
  hiddenFolders: number;
  /** Files that are no toolpath, artwork, sidecar, profile or settings. */
  otherFiles: number;
}

export const NOTHING_PASSED_BY: PassedBy = { excluded: 0, git: 0, nodeModules: 0, hiddenFolders: 0, otherFiles: 0 };

/** The same, each with whether the run is incomplete for it. */
export function weighed(
  leftOut: readonly LeftOut[],
  unchecked: Unchecked,
): (Pick<LeftOut, 'path' | 'kind' | 'reason'> & { incomplete: boolean })[] {
  return leftOut.map(({ path, kind, reason, weighs }) => {
    const incomplete =
      weighs === 'always' || weighs === 'never' ? weighs === 'always' : unchecked[weighs] === 'incomplete';
    return { path, kind, reason, incomplete };
  });
}

export const REASONS = {
  noSidecar: 'no sidecar names it, and no --machine, --material and --thickness say what it is',
  link: 'a link, which a search does not follow: name it in a sidecar or on the command line',
  linkToFolder:
    'a link to a folder of this root, which a search does not follow: what it leads to is judged where it stands',
  linkOutside:
    'a link to a folder outside the root, which a search does not follow: run there, or exclude it in .kerflint.yaml',
  linkNowhere: 'a link that leads nowhere',
  special: 'a pipe, device or socket, not a file',
  unnameable: 'its name is not UTF-8, so it cannot be opened: rename it',
  sidecarName: 'looks like a sidecar, and the name of a sidecar ends in .job.yaml: rename it',
  unlisted: (problem: string) => `this folder cannot be listed (${problem}): nothing in it was judged`,
  tooDeep:
    'this folder lies too deep, and nothing in it was judged: name it on the command line, or exclude it in .kerflint.yaml',
  tooMany:
    'the search ended ahead of this folder, since there are too many files: nothing in it and behind it was judged. Name folders on the command line, or exclude some in .kerflint.yaml',
  unreadable: (reason: string) => `cannot be read (${reason}), so nobody knows whether it is a toolpath`,
  hiddenFolder: (holds: string) =>
    `a hidden folder with ${holds}, passed by: name it on the command line, or exclude it in .kerflint.yaml`,
  hiddenTooLarge:
    'a hidden folder too large to look through: name it on the command line, or exclude it in .kerflint.yaml',
} as const;
