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
