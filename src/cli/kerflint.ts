import { main } from './main.ts';

// No handler for SIGINT: reading is synchronous, so only the signal's own effect ends it at once (shells report 130), and
// files are written only after judging. Never process.exit: output still in the pipe would be lost.
process.exitCode = await main({
  argv: process.argv.slice(2),
  cwd: process.cwd(),
  env: process.env,
  // Node opens it when it is first asked for, and few commands do.
  get stdin() {
    return process.stdin;
  },
  stdout: process.stdout,
  stderr: process.stderr,
});
