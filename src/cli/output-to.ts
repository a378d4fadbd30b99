import { fstatSync, writeSync } from 'node:fs';
import type { Out } from './io.ts';

type Stream = Out & { on(event: 'error', listener: (error: Error & { code?: string }) => void): unknown };

/**
 * Standard output or standard error. A file or a pipe is written to at once, since the stream that Node has for it takes longer to open than
 * most reports to write. A terminal, and a pipe that cannot take more just now, get the stream. A pipe that nobody reads any more takes
 * nothing, and that is no error.
 * @param stream opens Node's own.
 */
export function outputTo(fd: number, stream: () => Stream): Out {
  if (!takesWrites(fd)) return stream();
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
        if (isClosed(error)) return;
        opened = stream();
        opened.on('error', (late) => {
          if (!isClosed(late)) throw late;
        });
        opened.write(bytes.subarray(at));
      }
    },
  };
}

const isClosed = (error: unknown): boolean => (error as { code?: string }).code === 'EPIPE';

/** Whether a descriptor is a file, a pipe or a socket; to ask whether it is a terminal would load what the stream needs. */
function takesWrites(fd: number): boolean {
  try {
    const stat = fstatSync(fd);
    return stat.isFile() || stat.isFIFO() || stat.isSocket();
  } catch {
    // It is closed: the stream knows what to do.
    return false;
  }
}
