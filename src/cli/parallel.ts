import { Worker } from 'node:worker_threads';
import { joined } from '../findings/joining.ts';
import type { RunResult } from '../findings/result.ts';
import { rulesOncePerRun } from '../preflight.ts';
import type { Judged, JudgeRequest } from './judge.ts';
import { packagePath } from './package-files.ts';
import type { Shard } from './shard.ts';
import { UsageError } from './usage-error.ts';

/** What a worker sends back. A fault of its own comes as an error event. */
export type Answer = { judged: Judged } | { usage: { message: string; wayOut: string } };

/**
 * Judges in several threads, each with its share of the jobs, and joins what they found: the result is that of one thread.
 * @throws UsageError when the request itself is wrong
 */
export async function judgeInParallel(request: JudgeRequest, workers: number): Promise<Judged> {
  const parts = await Promise.all(
    Array.from({ length: workers }, (_, i) => partOf({ ...request, shard: within(request.shard, i, workers) })),
  );
  const [first] = parts as [Judged, ...Judged[]];
  const result = joined(
    parts.map((part) => withoutShard(part.result)),
    rulesOncePerRun,
  );
  return {
    ...first,
    result: request.shard === null ? result : { ...result, shard: request.shard },
    pictures: new Map(parts.flatMap((part) => [...part.pictures])),
  };
}

/** The `i`-th of `n` parts of a share is itself a share of the whole: every n-th of it. */
export function within(shard: Shard | null, i: number, n: number): Shard {
  const { index, of } = shard ?? { index: 1, of: 1 };
  return { index: index + i * of, of: of * n };
}

function withoutShard({ shard: _, ...whole }: RunResult): RunResult {
  return whole;
}

function partOf(request: JudgeRequest): Promise<Judged> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(packagePath('dist', 'worker.js'), { workerData: request });
    worker.once('message', (answer: Answer) => {
      if ('judged' in answer) resolve(answer.judged);
      else reject(new UsageError(answer.usage.message, answer.usage.wayOut));
    });
    worker.once('error', reject);
    worker.once('exit', () => reject(new Error('a worker ended without an answer')));
  });
}
