import type * as Reader from '../../svg/read.ts';

/** What the artwork's room does for the facts. */
export type ArtworkReader = Pick<typeof Reader, 'readArtwork' | 'parseColour'>;

/** The reader of artwork, null where no job has any: its libraries take longer to load than a small toolpath to check. */
export async function artworkReaderFor(jobs: readonly { artwork: unknown }[]): Promise<ArtworkReader | null> {
  return jobs.some(({ artwork }) => artwork !== null) ? import('../../svg/read.ts') : null;
}
