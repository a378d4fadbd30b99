import { spawnSync } from 'node:child_process';
import { closeSync, constants, openSync, readFileSync, readSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { outputTo } from '../../src/cli/files/output-to.ts';
import { folder, REPOSITORY } from './harness.ts';

/** A stream that keeps what it is given. */
function keeper() {
  const kept: Buffer[] = [];
  const stream = { write: (text: string | Uint8Array) => kept.push(Buffer.from(text)), on: () => undefined };
  return { stream, text: () => Buffer.concat(kept).toString() };
}

const never = (): never => {
  throw new Error('the stream was opened');
};
const failed = (code: string): never => {
  throw new Error(code);
};

/** Both ends of a pipe that refuses what does not fit instead of waiting. */
function pipe(): { read: number; write: number } {
  const path = join(folder(), 'pipe');
  expect(spawnSync('mkfifo', [path]).status).toBe(0);
  const read = openSync(path, constants.O_RDONLY | constants.O_NONBLOCK);
  return { read, write: openSync(path, constants.O_WRONLY | constants.O_NONBLOCK) };
}

function readAll(fd: number): string {
  const chunks: Buffer[] = [];
  for (;;) {
    const chunk = Buffer.alloc(65_536);
    const count = readSync(fd, chunk);
    if (count === 0) return Buffer.concat(chunks).toString();
    chunks.push(chunk.subarray(0, count));
  }
}

const LONG = 'Größe 3 µm; '.repeat(100_000);

describe('what is written out', () => {
  it('goes into a file at once', () => {
    const path = join(folder(), 'report.txt');
    const fd = openSync(path, 'w');
    const out = outputTo(fd, never, failed);
    out.write(LONG);
    out.write('end');
    expect(readFileSync(path, 'utf8')).toBe(`${LONG}end`);
    closeSync(fd);
  });

  it('goes to the stream from where a pipe takes no more, with not a byte lost', () => {
    const { read, write } = pipe();
    const { stream, text } = keeper();
    const out = outputTo(write, () => stream, failed);
    out.write(LONG);
    out.write('end');
    closeSync(write);
    const first = readAll(read);
    closeSync(read);
    expect(first.length).toBeGreaterThan(0);
    expect(text().length).toBeGreaterThan(0);
    expect(Buffer.byteLength(first) + Buffer.byteLength(text())).toBe(Buffer.byteLength(`${LONG}end`));
    expect(text().endsWith('end')).toBe(true);
  });

  it('is dropped where nobody reads any more', () => {
    const { read, write } = pipe();
    closeSync(read);
    const out = outputTo(write, never, failed);
    out.write(LONG);
    out.write('end');
    closeSync(write);
  });

  it('is the business of the stream on a terminal, and where there is nothing to write to', () => {
    const { stream } = keeper();
    const terminal = { ...stream, isTTY: true };
    const fd = openSync('/dev/null', 'w');
    expect(outputTo(fd, () => terminal, failed)).toBe(terminal);
    expect(outputTo(fd, () => stream, failed)).not.toBe(stream);
    closeSync(fd);
    expect(outputTo(fd, () => stream, failed)).toBe(stream);
  });

  it('and cannot be, on a full disk, is told', () => {
    const fd = openSync('/dev/full', 'w');
    const { stream } = keeper();
    expect(() => outputTo(fd, () => stream, failed).write('x')).toThrow('ENOSPC');
    closeSync(fd);
  });
});

describe('the built command', () => {
  const full = (...streams: ('stdout' | 'stderr')[]) => {
    const fd = openSync('/dev/full', 'w');
    const at = (name: 'stdout' | 'stderr') => (streams.includes(name) ? fd : ('pipe' as const));
    const argv = [join(REPOSITORY, 'dist/kerflint.js'), 'check', join(REPOSITORY, 'examples')];
    const done = spawnSync(process.execPath, argv, { encoding: 'utf8', stdio: ['ignore', at('stdout'), at('stderr')] });
    closeSync(fd);
    return done;
  };

  it('says that a report found no room, and ends as with any file that cannot be written', () => {
    const { status, stderr } = full('stdout');
    expect(status).toBe(2);
    expect(stderr).toMatch(
      /^kerflint: standard output cannot be written \(ENOSPC\)\.\nSee where it is led to: .*full\.\n$/,
    );
    expect(full('stdout', 'stderr').status).toBe(2);
  });
});
