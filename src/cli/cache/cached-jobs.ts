import type { Inspect, JudgingInput } from '../../preflight.ts';
import { SourceUnreadable } from '../../source/source.ts';
import type { TrustedSources } from '../check/gather.ts';
import { decodeEntry, encodeEntry } from './cache-entry.ts';
import { CacheFolder } from './cache-folder.ts';
import { jobKey, runDigest } from './cache-key.ts';

/** Judging that first looks whether the same was judged before. */
export interface CachedJobs {
  inspect: Inspect;
  /** Why results are not kept, as a sentence; null when they are. */
  trouble(): string | null;
}

/**
 * Puts a folder of results before the judging of a run's jobs, all of them without pictures. The folder only ever saves time: what is not
 * there whole is judged, and what is there was judged from the same bytes.
 */
export function cachedJobs(inspect: Inspect, judging: JudgingInput, trusted: TrustedSources, at: string): CachedJobs {
  const folder = new CacheFolder(at);
  const run = runDigestOf(judging, trusted);
  return {
    inspect(job) {
      const key = run === null ? null : jobKey(run, job);
      if (run === null || key === null) return inspect(job);
      const entry = folder.read(key);
      const known = entry === null ? null : decodeEntry(key, entry);
      if (known !== null) return { result: known, drawing: null, trial: null };
      const judged = inspect(job);
      // Incomplete is what failed or could not be read: it may go better next time. And a file may have changed since it was hashed.
      if (judged.result.verdict !== 'incomplete' && jobKey(run, job) === key) {
        const text = encodeEntry(key, judged.result);
        if (text !== null) folder.write(key, text);
      }
      return judged;
    },
    trouble: () => folder.trouble,
  };
}

/** Null when the shop cannot be read as a whole: then there is nothing that a result could be known by. */
function runDigestOf(judging: JudgingInput, trusted: TrustedSources): string | null {
  try {
    return runDigest(judging, trusted);
  } catch (error) {
    if (error instanceof SourceUnreadable) return null;
    throw error;
  }
}
