import { JobOpener } from '../job/discovery.ts';
import { artworkReaderFor, inspector, type JudgedJob } from '../preflight.ts';
import { openRoot } from './gather.ts';
import { judgingInput, libraryOf } from './judge.ts';
import type { Task } from './parallel.ts';

let judgeAt: Promise<(path: string) => JudgedJob> | undefined;

/** What a thread does with a task. It belongs to one run, and keeps what it has opened for the next task. */
export default async function judgeTask({ run, paths }: Task): Promise<JudgedJob[]> {
  judgeAt ??= judgeOf(run);
  return paths.map(await judgeAt);
}

async function judgeOf(run: Task['run']): Promise<(path: string) => JudgedJob> {
  const { access, trusted } = openRoot(run.root, run);
  const library = libraryOf(trusted, run.untrusted);
  const artworkReader = await artworkReaderFor(run.artwork ? [{ artwork: true }] : []);
  const inspect = inspector(judgingInput(run, trusted.shop.settings, library, artworkReader), run.drawn);
  const opener = new JobOpener(access);
  return (path) => inspect(opener.open(path));
}
