/**
 * Small files that ask much of geometry. Method: each is written into the system's folder for temporary files and checked by the
 * built command in a process of its own, start-up included. The bound is 2 s of processor time, or 2 s for each 100 kB of the file
 * where that is more, at most 10 s below 1 MB, and 400 MB.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { HARD_FILES } from './hard-files.ts';
import { watched } from './watched.ts';

const folder = join(tmpdir(), 'kerflint-bench-hard');
mkdirSync(folder, { recursive: true });
const only = process.env['HARD'];

console.log('| file | kB | before, CPU s | CPU s | bound | peak MB | verdict |');
console.log('|---|---|---|---|---|---|---|');
for (const [n, { name, extension, thicknessMm, beforeS, text }] of HARD_FILES.entries()) {
  if (only && !name.includes(only)) continue;
  const path = join(folder, `hard-${n}.${extension}`);
  const content = text();
  writeFileSync(path, content);
  const bare = [
    '--machine',
    'shed-60w',
    '--lens',
    '2in',
    '--material',
    'birch-plywood',
    '--thickness',
    `${thicknessMm} mm`,
  ];
  const run = watched(['check', path, ...bare, '--shop', resolve('examples/machines'), '--format', 'json']);
  if (run === null) throw new Error(`kerflint did not run on "${name}": "npm run build" first`);
  const kb = content.length / 1000;
  const boundS = kb < 1000 ? Math.min(10, Math.max(2, kb / 50)) : kb / 50;
  const { verdict } = JSON.parse(run.stdout) as { verdict: string };
  const before = beforeS === null ? '' : String(beforeS);
  console.log(
    `| ${name} | ${kb.toFixed(0)} | ${before} | ${run.cpuSeconds.toFixed(2)} | ${boundS.toFixed(1)} | ${run.megabytes.toFixed(0)} | ${verdict} |`,
  );
}
