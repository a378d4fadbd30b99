import { closeSync, existsSync, linkSync, mkdirSync, openSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { UsageError } from '../usage-error.ts';

/** Another run holds a lock for the time of one reading and writing. */
const TRIES = 500;
const WAIT_MS = 20;

/**
 * Does something while no other run does so to the same file: reads it, and writes it anew. The lock is a file beside it. One that was left by a
 * run of this machine which was killed is taken away.
 * @throws UsageError when the lock is held all the time, or cannot be made
 */
export function withLock<T>(path: string, act: () => T): T {
  const lock = `${path}.lock`;
  for (let tries = 0; !taken(lock); tries++) {
    if (tries >= TRIES)
      throw new UsageError(
        `${path} is held by another run (${lock}: ${ownerOf(lock) ?? 'gone'}).`,
        `Wait for it; if there is none, remove ${lock}.`,
      );
    if (!clearedAway(lock)) sleep();
  }
  try {
    return act();
  } finally {
    rmSync(lock, { force: true });
  }
}

function taken(lock: string): boolean {
  const whole = join(dirname(lock), `.${basename(lock)}.${process.pid}.tmp`);
  try {
    mkdirSync(dirname(lock), { recursive: true });
    // A lock never stands there without its owner's name, whenever its run is killed: nobody could tell whether it was left over.
    rmSync(whole, { force: true });
    writeFileSync(whole, owner(), { flag: 'wx' });
    linkSync(whole, lock);
    return true;
  } catch (error) {
    const { code = String(error) } = error as { code?: string };
    if (code === 'EEXIST') return false;
    if (NO_HARD_LINKS.has(code)) return takenWithoutLink(lock);
    throw new UsageError(`${lock} cannot be written (${code}).`, 'Name a file in a folder that you may write to.');
  } finally {
    rmSync(whole, { force: true });
  }
}

/** What file systems without hard links say. */
const NO_HARD_LINKS = new Set(['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK']);

function takenWithoutLink(lock: string): boolean {
  try {
    writeFileSync(lock, owner(), { flag: 'wx' });
    return true;
  } catch (error) {
    const { code = String(error) } = error as { code?: string };
    if (code === 'EEXIST') return false;
    throw new UsageError(`${lock} cannot be written (${code}).`, 'Name a file in a folder that you may write to.');
  }
}

/** Takes away a lock whose run is no more. Only one run at a time may look, or it would take away the lock of the next. */
function clearedAway(lock: string): boolean {
  const broom = `${lock}.clearing`;
  if (!isLeftOver(lock) || existsSync(broom)) return false;
  try {
    closeSync(openSync(broom, 'wx'));
  } catch {
    return false;
  }
  try {
    if (!isLeftOver(lock)) return false;
    rmSync(lock, { force: true });
    return true;
  } finally {
    rmSync(broom, { force: true });
  }
}

const owner = () => `${hostname()} ${process.pid}`;

function ownerOf(lock: string): string | null {
  try {
    return readFileSync(lock, 'utf8');
  } catch {
    return null;
  }
}

/** Of another machine nobody here can tell. */
function isLeftOver(lock: string): boolean {
  const [, host, pid] = /^(\S+) (\d{1,10})$/.exec(ownerOf(lock) ?? '') ?? [];
  if (host !== hostname()) return false;
  try {
    process.kill(Number(pid), 0);
    return false;
  } catch (error) {
    return (error as { code?: string }).code === 'ESRCH';
  }
}

function sleep(): void {
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, WAIT_MS);
}
