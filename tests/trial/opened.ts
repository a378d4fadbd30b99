import { factsOf, type ReadJob, readJob } from '../../src/facts/build.ts';
import type { JobFacts } from '../../src/facts/facts.ts';
import { resolveJob } from '../../src/facts/input/resolve.ts';
import { discoverJobs } from '../../src/job/files/discovery.ts';
import { inspector } from '../../src/preflight.ts';
import { READERS } from '../../src/readers.ts';
import type { Trial } from '../../src/trial.ts';
import { memoryAccess } from '../memory-access.ts';
import { type Files, libraryOf, readers, TODAY } from '../memory-shop.ts';

/** A trial of the one job among the files. */
export function opened(files: Files): Trial {
  const [job] = discoverJobs(memoryAccess(files), READERS, [''], false).jobs;
  const library = libraryOf(files);
  const options = { today: TODAY, untrusted: false };
  const { trial } = inspector({ library, settings: null, options, readers, keepsTrials: true })(job!);
  if (!trial) throw new Error('the job gave no trial');
  return trial;
}

/** The one job among the files, read as a check reads it: nothing is kept to plan its motion anew. */
export function readWithoutMotion(files: Files): { read: ReadJob; facts: JobFacts } {
  return readKeeping(files, false);
}

/** The same as a trial reads it. */
export function readWithMotion(files: Files): { read: ReadJob; facts: JobFacts } {
  return readKeeping(files, true);
}

function readKeeping(files: Files, keepsMotion: boolean): { read: ReadJob; facts: JobFacts } {
  const [job] = discoverJobs(memoryAccess(files), READERS, [''], false).jobs;
  const read = readJob({
    ...resolveJob(job!, libraryOf(files), { untrusted: false }),
    budget: null,
    today: TODAY,
    readers,
    keepsMotion,
  });
  return { read, facts: factsOf(read) };
}
