import { fstatSync, writeSync } from 'node:fs';
import type { OutputStream } from '../terminal/io.ts';
import { UsageError } from '../usage-error.ts';

type Failure = Error & { code?: string };
type Stream = OutputStream & { on(event: 'error', listener: (error: Failure) => void): unknown };

/** Standard output and standard error of a process. */
export function outputsOf(process: { readonly stdout: Stream; readonly stderr: Stream }): {
  stdout: OutputStream;
  stderr: OutputStream;
} {
  return {
    stdout: outputTo(
      1,
      () => process.stdout,
      (code) => {
        throw new UsageError(
          `standard output cannot be written (${code}).`,
          'See where it is led to: the disk may be full.',
        );
      },
    ),
    // There is no stream left on which it could be reported.
    stderr: outputTo(
      2,
      () => process.stderr,
      () => undefined,
    ),
  };
}

/**
 * Where a process writes to. A file, a pipe or a device is written to at once, since the stream that Node has for it takes longer to
 * open than most reports to write. A terminal, and a pipe that cannot take more just now, get the stream. A pipe that nobody reads any more
 * takes nothing, and that is no error.
 * @param stream opens Node's own.
 * @param failed is told why nothing more can be written, a full disk for one; what it throws is thrown by `write`.
 */
export function outputTo(fd: number, stream: () => Stream, failed: (code: string) => void): OutputStream {
  if (!takesWrites(fd, stream)) return stream();
  let opened: Stream | null = null;
  return {
    write(text: string): void {
      if (opened !== null) {
        opened.write(text);
        return;
      }
      const bytes = Buffer.from(text);
      let at = 0;
      try {
        while (at < bytes.length) at += writeSync(fd, bytes, at);
      } catch (error) {
        const { code = String(error) } = error as Failure;
        if (code === 'EPIPE') return;
        if (code !== 'EAGAIN') {
          failed(code);
          return;
        }
        opened = stream();
        opened.on('error', (late) => {
          if (late.code !== 'EPIPE') failed(late.code ?? String(late));
        });
        opened.write(bytes.subarray(at));
      }
    },
  };
}

/** Whether a descriptor can be written to by itself; what it is tells without the stream, a device may be a terminal. */
function takesWrites(fd: number, stream: () => Stream): boolean {
  try {
    const stat = fstatSync(fd);
    if (stat.isCharacterDevice()) return stream().isTTY !== true;
    return stat.isFile() || stat.isFIFO() || stat.isSocket();
  } catch {
    // It is closed: the stream knows what to do.
    return false;
  }
}
