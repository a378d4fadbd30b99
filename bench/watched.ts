// The built command in a process of its own, with what it cost.
import { spawnSync } from 'node:child_process';
import { existsSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export interface Watched {
  /** Wall clock of the whole process. */
  seconds: number;
  /** Processor time of all its threads, user and system. */
  cpuSeconds: number;
  /** Largest resident set. */
  megabytes: number;
  status: number;
  stdout: string;
}

/** Tells the cost of the process that it is loaded into, on the last line of stderr. Threads load it too and are counted in already. */
const WATCH =
  "if (require('node:worker_threads').isMainThread) process.on('exit', () => { const u = process.resourceUsage(); process.stderr.write('\\n' + u.maxRSS / 1024 + ' ' + (u.userCPUTime + u.systemCPUTime) / 1e6 + '\\n'); })";

/** Runs `kerflint` with these arguments, start-up and all. Null when it is not built, or did not run. */
export function watched(argv: readonly string[]): Watched | null {
  const command = join(process.cwd(), 'dist', 'kerflint.js');
  return existsSync(command) ? watchedNode([command, ...argv]) : null;
}

/** Runs Node with these arguments. Null when it ends as a command that could not do its work. */
export function watchedNode(argv: readonly string[]): Watched | null {
  const watch = join(tmpdir(), 'kerflint-bench-watch.cjs');
  writeFileSync(watch, WATCH);
  const start = process.hrtime.bigint();
  const child = spawnSync(process.execPath, ['--require', watch, ...argv], {
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  const seconds = Number(process.hrtime.bigint() - start) / 1e9;
  const [megabytes = Number.NaN, cpuSeconds = Number.NaN] = child.stderr
    .trim()
    .split('\n')
    .at(-1)!
    .split(' ')
    .map(Number);
  if (child.status === null || child.status === 2) return null;
  return { seconds, cpuSeconds, megabytes, status: child.status, stdout: child.stdout };
}
