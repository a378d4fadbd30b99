import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { Script } from 'node:vm';
import type * as Main from './main.ts';
import type { Io } from './terminal/io.ts';

/** What the build makes of `main.ts` and all that it needs: a function that is given `require` and the program's own URL. */
type Program = (require: NodeJS.Require, url: string) => Pick<typeof Main, 'main' | 'outputsOf'>;

const PROGRAM = join(import.meta.dirname, 'parts', 'program.cjs');

/**
 * The program, with what V8 made of it at the build (`program.cache`): compiling it anew takes longer than checking a small job.
 * V8 takes that only from the same version of itself, with the same settings; else it compiles, and all is as without it.
 */
function program(): Program {
  let cachedData: Buffer | undefined;
  try {
    cachedData = readFileSync(join(dirname(PROGRAM), 'program.cache'));
  } catch {
    // A build may have made none.
  }
  // The build leaves nothing in it but ASCII.
  const script = new Script(readFileSync(PROGRAM, 'latin1'), { filename: PROGRAM, cachedData });
  return script.runInThisContext() as Program;
}

// No handler for SIGINT: reading is synchronous, so only the signal's own effect ends it at once (shells report 130), and
// files are written only after judging. Never process.exit: output still in the pipe would be lost.
const { main, outputsOf } = program()(createRequire(PROGRAM), pathToFileURL(PROGRAM).href);
const { stdout, stderr } = outputsOf(process);
const io: Io = {
  argv: process.argv.slice(2),
  cwd: process.cwd(),
  env: process.env,
  // Node opens it when it is first asked for, and few commands do.
  get stdin() {
    return process.stdin;
  },
  stdout,
  stderr,
};
void main(io).then((code) => {
  process.exitCode = code;
});
