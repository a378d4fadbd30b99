// Writes every file of the repository that is generated from the sources; with --check it compares instead, and exits 1
// with a list of those that are stale. What is generated stands in build/generate.ts.
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';

const root = fileURLToPath(new URL('..', import.meta.url));
const check = process.argv.includes('--check');
// Inside the repository, so that the bundle finds its packages.
const work = mkdtempSync(join(root, 'node_modules', '.generate-'));
try {
  const outfile = join(work, 'generate.mjs');
  await build({
    entryPoints: [join(root, 'build/generate.ts')],
    bundle: true,
    platform: 'node',
    format: 'esm',
    packages: 'external',
    outfile,
    logLevel: 'error',
  });
  const { generated } = await import(pathToFileURL(outfile).href);
  const files = await generated();
  const stale = [];
  for (const [path, text] of files) {
    const full = join(root, path);
    let present = null;
    try {
      present = readFileSync(full, 'utf8');
    } catch (error) {
      if (error.code !== 'ENOENT') throw error;
    }
    if (present === text) continue;
    stale.push(path);
    if (check) continue;
    mkdirSync(dirname(full), { recursive: true });
    writeFileSync(full, text);
  }
  if (check && stale.length > 0) {
    console.error(`stale, run "npm run generate":\n${stale.map((path) => `  ${path}`).join('\n')}`);
    process.exitCode = 1;
  } else {
    console.log(`${files.size} generated files, ${stale.length} ${check ? 'stale' : 'written'}`);
  }
} finally {
  rmSync(work, { recursive: true, force: true });
}
