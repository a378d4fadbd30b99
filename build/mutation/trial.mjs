// Tries mutants: each is written into a copy of the project, and the tests are run there. What a mutant slows is the changed file alone,
// and a test file that can no longer be loaded fails like any other.
import { execFileSync, spawn } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { transform } from 'esbuild';
import { changed, fileOf } from './change.mjs';

/** Processor time of a run after which it counts as endless, s: the longest takes less than half of it. */
const ENDLESS_S = 400;

/** A copy of the project as it stands, in which one mutant after the other is tried. */
export class Copy {
  #folder = mkdtempSync(join(tmpdir(), 'kerflint-mutants-'));
  #child = null;
  /** The test file that last noticed a mutant of a file: the next one meets it first. */
  #noticedBy = new Map();

  constructor() {
    const list = execFileSync('git', ['ls-files', '-co', '--exclude-standard', '-z'], { encoding: 'utf8' });
    for (const path of list.split('\0').filter(Boolean)) {
      mkdirSync(join(this.#folder, dirname(path)), { recursive: true });
      cpSync(path, join(this.#folder, path));
    }
    cpSync('dist', join(this.#folder, 'dist'), { recursive: true });
    symlinkSync(join(process.cwd(), 'node_modules'), join(this.#folder, 'node_modules'));
  }

  remove() {
    this.#child?.kill();
    rmSync(this.#folder, { recursive: true, force: true });
  }

  /** Runs tests (patterns of files) until one fails: null when none does, else the file in which one did and whether it never ended. */
  async run(tests) {
    const { code, text } = await this.#vitest(tests);
    if (text.includes('No test files found')) throw new Error(`There are no tests ${tests.join(', ')}`);
    if (code === 0) return null;
    const file = /FAIL\s+(\S+\.test\.ts)/.exec(text)?.[1] ?? null;
    const endless = /SIGXCPU|SIGKILL|exited unexpectedly/.test(text);
    if (file === null && !endless) throw new Error(`The tests broke off:\n${text.slice(-2000)}`);
    return { file, endless };
  }

  /** Whether tests notice a mutant: `Killed`, `Timeout` where one no longer ended, or `Survived`. */
  async try(name, tests) {
    const file = join(this.#folder, fileOf(name));
    const text = readFileSync(file, 'utf8');
    const mutant = changed(text, name);
    await transform(mutant, { loader: 'ts' });
    writeFileSync(file, mutant);
    try {
      const noticed = await this.run([this.#noticedBy.get(file) ?? [], tests].flat());
      if (noticed === null) return 'Survived';
      if (noticed.file !== null) this.#noticedBy.set(file, noticed.file);
      return noticed.endless ? 'Timeout' : 'Killed';
    } finally {
      writeFileSync(file, text);
    }
  }

  #vitest(tests) {
    const options = [
      'run',
      '--bail',
      '1',
      '--pool',
      'forks',
      '--maxWorkers',
      '1',
      '--config',
      'build/mutation/vitest.config.ts',
    ];
    // All test files of a run share one process, to which the limit applies: what they import is taken in once.
    const limited = [
      '-c',
      `ulimit -t ${ENDLESS_S}; exec "$@"`,
      'sh',
      process.execPath,
      'node_modules/vitest/vitest.mjs',
    ];
    const child = spawn('sh', [...limited, ...options], {
      cwd: this.#folder,
      env: { ...process.env, KERFLINT_MUTANT_TESTS: JSON.stringify(tests), NO_COLOR: '1' },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    this.#child = child;
    let text = '';
    for (const stream of [child.stdout, child.stderr]) stream.on('data', (part) => (text += part));
    return new Promise((done, failed) => {
      child.on('error', failed);
      child.on('close', (code) => done({ code, text }));
    });
  }
}
