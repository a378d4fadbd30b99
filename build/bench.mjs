// Bundles each bench/*.ts that measures something and runs it, one after the other. `node build/bench.mjs toolpath` runs one.
import { spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'esbuild';

const wanted = process.argv.slice(2);
const names = readdirSync('bench')
  .filter(
    (file) => file.endsWith('.ts') && !['browser.ts', 'programs.ts', 'watched.ts', 'hard-files.ts'].includes(file),
  )
  .map((file) => file.slice(0, -3))
  .filter((name) => wanted.length === 0 || wanted.includes(name));
const folder = join(tmpdir(), 'kerflint-bench');
mkdirSync(folder, { recursive: true });

for (const name of names) {
  const outfile = join(folder, `${name}.mjs`);
  await build({
    entryPoints: [`bench/${name}.ts`],
    outfile,
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    logLevel: 'error',
    // The reference libraries are CommonJS inside and ask for Node's own modules.
    banner: { js: "import { createRequire } from 'node:module';\nconst require = createRequire(import.meta.url);" },
  });
  const { status } = spawnSync(process.execPath, [outfile], { stdio: 'inherit' });
  if (status !== 0) process.exit(status ?? 1);
}
