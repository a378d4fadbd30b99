import { parentPort, workerData } from 'node:worker_threads';
import { type JudgeRequest, judge } from './judge.ts';
import type { Answer } from './parallel.ts';
import { UsageError } from './usage-error.ts';

async function answer(): Promise<Answer> {
  try {
    return { judged: await judge(workerData as JudgeRequest) };
  } catch (error) {
    if (error instanceof UsageError) return { usage: { message: error.message, wayOut: error.wayOut } };
    throw error;
  }
}

parentPort?.postMessage(await answer());
