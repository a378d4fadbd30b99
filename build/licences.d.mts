/** A build's outputs, as esbuild describes them in its metafile. */
interface Metafile {
  outputs: Record<string, { inputs: Record<string, { bytesInOutput: number }> }>;
}

/** Folders of the packages whose code is in the outputs of a build, in order of name. */
export function packagesIn(metafile: Metafile): string[];
/** Name, version, licence and its whole text for each package; a licence that nobody has a text of fails the build. */
export function licencesOf(
  root: string,
  folders: readonly string[],
): { name: string; version: string; license: string; text: string }[];
