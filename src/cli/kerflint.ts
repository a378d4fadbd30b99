import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { setFlagsFromString } from 'node:v8';
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
function programScript(): { start: Program; compiled: boolean } {
  let cachedData: Buffer | undefined;
  try {
    cachedData = readFileSync(join(dirname(PROGRAM), 'program.cache'));
  } catch {
    // A build may have made none.
  }
  // The build leaves nothing in it but ASCII.
  const script = new Script(readFileSync(PROGRAM, 'latin1'), { filename: PROGRAM, cachedData });
  return { start: script.runInThisContext() as Program, compiled: script.cachedDataRejected === false };
}

/**
 * So many bytes of a function are run, a few times over, before V8 compiles it for speed: four times its own measure. Most that a small job
 * runs would never earn that back, and of its processor time a fifth went there; a long job reaches it a few milliseconds later. V8 takes a
 * compiled form only with the settings that it was made with, and Node has one of its own modules too: so this is set when all is loaded.
 */
function compileLater(): void {
  setFlagsFromString('--interrupt-budget=270336');
}

// No handler for SIGINT: reading is synchronous, so only the signal's own effect ends it at once (shells report 130), and
// files are written only after judging. Never process.exit: output still in the pipe would be lost.
const { start, compiled } = programScript();
const { main, outputsOf } = start(createRequire(PROGRAM), pathToFileURL(PROGRAM).href);
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
// Then it is the engine that the build was made and measured with.
if (compiled) compileLater();
void main(io).then((code) => {
  process.exitCode = code;
});
