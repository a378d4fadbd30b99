// Bundles what is shipped into dist/ (never committed): the command line, the action, the core for a browser, and pages.
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { chmodSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { licencePage, packagesIn, writeLicences } from './licences.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));
const dist = join(root, 'dist');
const at = (path) => join(root, path);

const shared = {
  bundle: true,
  format: 'esm',
  target: 'node20',
  minifySyntax: true,
  minifyWhitespace: true,
  logLevel: 'warning',
  // The licences go beside each bundle, whole.
  legalComments: 'none',
  metafile: true,
};
// Dependencies in the older module format ask for require().
const nodeBanner =
  "import { createRequire as makeRequire } from 'node:module'; const require = makeRequire(import.meta.url);";

/** Packages whose entry also offers readers over Node's streams; the core uses only their pure part. */
const NODE_ONLY = ['stream', 'fs', 'events', 'timers', 'util'];

/** In the browser bundle those imports become empty modules; any other import of Node is an error of the build. */
const withoutNode = {
  name: 'without-node',
  setup(builder) {
    builder.onResolve({ filter: /^(node:)?[a-z_]+$/ }, ({ path, importer }) => {
      if (!importer.includes('node_modules') || !NODE_ONLY.includes(path.replace('node:', ''))) return undefined;
      return { path, namespace: 'empty' };
    });
    builder.onLoad({ filter: /.*/, namespace: 'empty' }, () => ({
      contents: 'class None {} module.exports = { EventEmitter: None, Transform: None, Readable: None };',
      loader: 'js',
    }));
  },
};

/** Parts of packages that are larger or slower to load than what kerflint uses of them. */
const lean = {
  name: 'lean',
  setup(builder) {
    // The same code as modules: what nobody imports falls away. Node would be given the older format, whole.
    builder.onResolve({ filter: /^yaml$/ }, () => ({ path: at('node_modules/yaml/browser/dist/index.js') }));
    // Commander can start other programs as its commands. kerflint starts none, and loading what does so takes time.
    builder.onResolve({ filter: /^node:child_process$/ }, ({ importer }) =>
      importer.includes('node_modules/commander/') ? { path: 'node:child_process', namespace: 'none' } : undefined,
    );
    builder.onLoad({ filter: /.*/, namespace: 'none' }, () => ({ contents: 'module.exports = {};', loader: 'js' }));
  },
};

export async function buildAll() {
  await buildLauncher();
  const { metafile } = await build({
    ...shared,
    entryPoints: {
      'parts/worker': at('src/cli/threads/worker.ts'),
      // The pool starts its threads from a file beside the part that it is in.
      'parts/entry/worker': at('node_modules/tinypool/dist/entry/worker.js'),
    },
    outdir: dist,
    platform: 'node',
    splitting: true,
    chunkNames: 'parts/[name]-[hash]',
    banner: { js: nodeBanner },
    plugins: [lean, poolOfThreads],
  });
  writeFileSync(join(dist, 'parts/package.json'), '{"type":"module"}\n');
  const programMeta = await buildProgram(join(dist, 'parts/program.cjs'));
  writeLicences(root, join(dist, 'kerflint.licences.txt'), [metafile, programMeta]);
  const program = ['program.cjs', 'program.cache', 'package.json'];
  removeOldParts([...Object.keys(metafile.outputs), ...program]);
  await buildAction(join(dist, 'action.mjs'));
  await buildCore(join(dist, 'core.browser.mjs'));
  const script = await reportScript();
  writeFileSync(join(dist, 'report-script.json'), JSON.stringify(script));
  writeFileSync(join(dist, 'page.html'), await offlinePage(script));
}

/** What the command starts from, in Node's older module format: that is loaded in half the time. */
async function buildLauncher() {
  const outfile = join(dist, 'kerflint.js');
  await build({
    ...shared,
    entryPoints: [at('src/cli/kerflint.ts')],
    outfile,
    platform: 'node',
    format: 'cjs',
    define: { 'import.meta.dirname': '__dirname' },
    banner: { js: '#!/usr/bin/env node' },
  });
  chmodSync(outfile, 0o755);
  writeFileSync(join(dist, 'package.json'), '{"type":"commonjs"}\n');
}

/** Patterns alone keep what is not ASCII; escaped, the whole text is taken in three times as quickly. */
export const asciiText = (text) =>
  text.replace(/[^\0-\x7f]/g, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`);

/** How the command line becomes one script. */
export const programOptions = (outfile) => ({
  ...shared,
  entryPoints: [at('src/cli/main.ts')],
  outfile,
  platform: 'node',
  format: 'iife',
  globalName: 'program',
  // Thousands of names are taken in at every start. `node build/where.mjs` finds the place in src that a stack names.
  minifyIdentifiers: true,
  banner: { js: '(function (require, programUrl) {' },
  footer: { js: 'return program; })' },
  define: { 'import.meta.url': 'programUrl' },
  plugins: [lean, poolOfThreads],
});

/** The whole command line as one script, whose compiled form can be kept: Node keeps none of modules. */
async function buildProgram(outfile) {
  // V8 knows the text that it compiled by its length alone: an old form must never stand beside a new program.
  rmSync(outfile.replace(/cjs$/, 'cache'), { force: true });
  const { metafile } = await build(programOptions(outfile));
  writeFileSync(outfile, asciiText(readFileSync(outfile, 'utf8')));
  execFileSync(process.execPath, [at('build/code-cache.mjs')]);
  return metafile;
}

/** The page that checks jobs without a network: core, catalogue, report and form in one file. */
async function offlinePage(script) {
  const { version } = JSON.parse(readFileSync(at('package.json'), 'utf8'));
  const catalogue = { 'published-cuts.json': readFileSync(at('data/published-cuts.json'), 'utf8') };
  for (const folder of ['machines', 'materials']) {
    for (const name of readdirSync(at(`data/${folder}`)).sort()) {
      if (name.endsWith('.yaml')) catalogue[`${folder}/${name}`] = readFileSync(at(`data/${folder}/${name}`), 'utf8');
    }
  }
  const built = JSON.stringify({ version, script, catalogue });
  const { text, metafile } = await bundled('src/page/offline.ts', undefined, { BUILT: built });
  const { REPORT_CSS } = await reportStyle();
  const sheets = ['src/page/offline.css', 'src/page/what-if/what-if.css'].map((file) => readFileSync(at(file), 'utf8'));
  const style = [REPORT_CSS, ...sheets].join('\n');
  const policy = `default-src 'none'; style-src '${hashOf(style)}'; script-src '${hashOf(text)}'; worker-src blob:; base-uri 'none'; form-action 'none'`;
  const { CAUTION: caution } = await constantsOf('src/findings/caution.ts');
  const licences = escapedText(licencePage(root, packagesIn(metafile)));
  const parts = { policy, style, version, caution, licences, script: text };
  return readFileSync(at('src/page/offline.html'), 'utf8').replace(
    /\/\*(\w+)\*\/|__(\w+)__/g,
    (_, a, b) => parts[a ?? b],
  );
}

const escapedText = (text) => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');

/** What a module without imports exports. */
async function constantsOf(entry) {
  const { text } = await bundled(entry, 'made');
  return new Function(`${text}; return made`)();
}

const reportStyle = () => constantsOf('src/report/html/html-style.ts');

/** The script of the HTML report, and the hashes by which the report's policy allows it and its style sheet. */
export async function reportScript() {
  const { text, metafile } = await bundled('src/page/report-script.ts');
  // A report is handed on by whoever makes it: it would need their licences in it.
  const others = packagesIn(metafile);
  if (others.length > 0) throw new Error(`the script of the report holds code of ${others.join(', ')}`);
  const { REPORT_CSS } = await reportStyle();
  return { text, scriptHash: hashOf(text), styleHash: hashOf(REPORT_CSS) };
}

/** A module and all it needs as one script for a page. */
async function bundled(entry, globalName, define = {}) {
  const { outputFiles, metafile } = await build({
    ...shared,
    entryPoints: [at(entry)],
    write: false,
    format: 'iife',
    platform: 'browser',
    target: 'es2022',
    minify: true,
    ...(globalName ? { globalName } : {}),
    define,
    plugins: [withoutNode],
  });
  // Inside a page this would end the script.
  return { text: outputFiles[0].text.trim().replaceAll('</script', '<\\/script'), metafile };
}

/** As a content security policy names an inline script or style (CSP 3, 2.3.1). */
function hashOf(text) {
  return `sha256-${createHash('sha256').update(text).digest('base64')}`;
}

/** Parts of earlier builds go only now, so that a program that runs meanwhile finds all of its own until then. */
function removeOldParts(outputs) {
  const now = new Set(outputs.map((path) => basename(path)));
  for (const entry of readdirSync(join(dist, 'parts'), { withFileTypes: true }))
    if (entry.isFile() && !now.has(entry.name)) rmSync(join(dist, 'parts', entry.name));
}

/**
 * What the runner's toolkit brings along to ask a service for tokens and to start programs. The action reads inputs and writes outputs
 * and the summary, so it needs neither, and a program that holds neither need not be trusted with it. What calls them all the same fails.
 */
const withoutReach = {
  name: 'without-reach',
  setup(builder) {
    builder.onResolve({ filter: /^@actions\/(http-client|exec)(\/|$)/ }, ({ path }) => ({
      path,
      namespace: 'left-out',
    }));
    builder.onLoad({ filter: /.*/, namespace: 'left-out' }, () => ({
      contents: `function leftOut() { throw new Error('this part of the toolkit is left out of kerflint'); }
        export { leftOut as HttpClient, leftOut as BearerCredentialHandler, leftOut as getExecOutput };`,
      loader: 'js',
    }));
  },
};

/** The action in one file: a runner installs nothing. */
export async function buildAction(outfile) {
  const { metafile } = await build({
    ...shared,
    entryPoints: [at('action/main.ts')],
    outfile,
    platform: 'node',
    target: 'node24',
    banner: { js: nodeBanner },
    plugins: [withoutReach],
  });
  writeLicences(root, `${outfile.replace(/\.mjs$/, '')}.licences.txt`, [metafile]);
}

/** The core alone, for a browser: fails when anything in it still needs Node. */
export async function buildCore(outfile) {
  const { metafile } = await build({
    ...shared,
    entryPoints: [at('src/preflight.ts')],
    outfile,
    platform: 'browser',
    target: 'es2022',
    plugins: [withoutNode],
  });
  writeLicences(root, `${outfile.replace(/\.mjs$/, '')}.licences.txt`, [metafile]);
  const left = Object.values(metafile.outputs).flatMap((output) => output.imports.map((one) => one.path));
  if (left.length > 0) throw new Error(`the browser bundle still imports ${left.join(', ')}`);
}

/**
 * The pool can also run on processes, and makes an import() out of text to get past bundlers that would write it otherwise. kerflint
 * promises to start no process and to run no text as code, so what is shipped cannot: threads and modules are all it uses of the pool.
 */
const poolOfThreads = {
  name: 'pool-of-threads',
  setup(builder) {
    builder.onLoad({ filter: /[\\/]tinypool[\\/]dist[\\/](index|utils-[^\\/]+)\.js$/ }, ({ path }) => {
      const contents = readFileSync(path, 'utf8')
        .replace('import { fork } from "node:child_process";', 'const fork = undefined;')
        .replace('new Function("specifier", "return import(specifier)")', '(specifier) => import(specifier)');
      if (/from .node:child_process|new Function/.test(contents))
        throw new Error(`${path} is not as it was: read it anew`);
      return { contents, loader: 'js' };
    });
  },
};

if (process.argv[1] === fileURLToPath(import.meta.url)) await buildAll();
