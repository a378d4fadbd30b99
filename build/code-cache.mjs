// Lets V8 compile the program and run the usual checks, and keeps what it made of it: node build/code-cache.mjs
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { Script } from 'node:vm';

const root = fileURLToPath(new URL('..', import.meta.url));
const path = join(root, 'dist/parts/program.cjs');
const script = new Script(readFileSync(path, 'latin1'), { filename: path });
const { main } = script.runInThisContext()(createRequire(import.meta.url), pathToFileURL(path).href);

const none = { write: () => undefined };
// A toolpath alone, and toolpath with artwork: functions that these do not call are compiled when they are needed.
for (const argv of [
  ['check', 'gate-sign.gcode', '--machine', 'shed-60w', '--material', 'birch-plywood', '--thickness', '6 mm'],
  ['check', '.'],
]) {
  await main({ argv, cwd: join(root, 'examples'), env: {}, stdin: [], stdout: none, stderr: none });
}
writeFileSync(join(root, 'dist/parts/program.cache'), script.createCachedData());
