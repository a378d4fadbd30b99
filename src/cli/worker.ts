import { JobOpener } from '../job/discovery.ts';
import { inspector, type JudgedJob } from '../preflight.ts';
import { openRoot } from './gather.ts';
import { judgingInput } from './judge.ts';
import type { Task } from './parallel.ts';

let judgeAt: ((path: string) => JudgedJob) | undefined;

/** What a thread does with a task. It belongs to one run, and keeps what it has opened for the next task. */
export default function judgeTask({ run, paths }: Task): JudgedJob[] {
  judgeAt ??= judgeOf(run);
  return paths.map(judgeAt);
}

function judgeOf(run: Task['run']): (path: string) => JudgedJob {
  const { access, trusted } = openRoot(run.root, run);
  const opener = new JobOpener(access);
  const inspect = inspector(judgingInput(run, trusted), run.drawn);
  return (path) => inspect(opener.open(path));
}
