// Fits the catalogue to the published cuts of data/evidence and writes what comes of it: removal energies into data/materials, the error
// limit, docs/evidence.md. With --check it compares instead, and exits 1 with a list of those that differ. What is written stands in
// fit/outputs.ts.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';

const root = fileURLToPath(new URL('..', import.meta.url));
const check = process.argv.includes('--check');
process.chdir(root);
// Inside the repository, so that the bundle finds its packages.
const work = mkdtempSync(join(root, 'node_modules', '.fit-'));
try {
  const outfile = join(work, 'fit.mjs');
  await build({
    entryPoints: [join(root, 'fit/outputs.ts')],
    bundle: true,
    platform: 'node',
    format: 'esm',
    packages: 'external',
    outfile,
    logLevel: 'error',
  });
  const { outputs } = await import(pathToFileURL(outfile).href);
  const different = [];
  for (const [path, text] of outputs()) {
    let present = null;
    try {
      present = readFileSync(path, 'utf8');
    } catch (error) {
      if (error.code !== 'ENOENT') throw error;
    }
    if (present === text) continue;
    different.push(path);
    if (!check) writeFileSync(path, text);
  }
  if (check && different.length > 0) {
    console.error(`not what a fit gives, run "npm run fit":\n${different.map((path) => `  ${path}`).join('\n')}`);
    process.exitCode = 1;
  } else {
    const { user } = process.cpuUsage();
    const done = check ? 'as a fit gives them' : `${different.length} written`;
    console.log(
      `removal energies, error limit and docs/evidence.md: ${done} (${Math.round(user / 1e6)} s of processor time)`,
    );
  }
} finally {
  rmSync(work, { recursive: true, force: true });
}
