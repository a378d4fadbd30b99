// Three plugins for Stryker. The checker lets pass only the mutants that were drawn: a range to mutate takes in every mutant inside it.
// The reporter writes down what became of each mutant as soon as that is known: a run of a whole room takes long, and may be broken off.
// The runner is Stryker's own for vitest, which takes a test file that cannot be loaded for one without tests: that is a failure too.
import { appendFileSync, readFileSync } from 'node:fs';
import { relative } from 'node:path';
import {
  commonTokens,
  declareClassPlugin,
  declareFactoryPlugin,
  PluginKind,
  tokens,
} from '@stryker-mutator/api/plugin';
import { DryRunStatus, TestStatus } from '@stryker-mutator/api/test-runner';
import { strykerPlugins as ofVitest } from '@stryker-mutator/vitest-runner';
import { asListed, nameOf } from './sample.mjs';

class OnlyChosen {
  async init() {
    this.chosen = new Set(JSON.parse(readFileSync(process.env.KERFLINT_MUTANTS, 'utf8')));
  }

  async check(mutants) {
    const answers = mutants.map((mutant) => {
      const name = nameOf({ ...mutant, fileName: relative(process.cwd(), mutant.fileName) });
      return [
        mutant.id,
        this.chosen.has(name) ? { status: 'passed' } : { status: 'compileError', reason: 'not drawn' },
      ];
    });
    return Object.fromEntries(answers);
  }

  async group(mutants) {
    return [mutants.map(({ id }) => id)];
  }
}

class WritesDown {
  onMutantTested(result) {
    if (result.status === 'CompileError') return;
    const name = nameOf(asListed(result));
    appendFileSync(process.env.KERFLINT_MUTANTS_TRIED, `${JSON.stringify({ name, status: result.status })}\n`);
  }
}

wholeFiles.inject = tokens(commonTokens.injector);
/** Stryker's runner, to which a file that cannot be loaded is a failed test. */
function wholeFiles(injector) {
  const runner = injector.injectFunction(ofVitest[0].factory);
  const run = runner.run.bind(runner);
  runner.run = async (options) => {
    const found = await run(options);
    if (found.status !== DryRunStatus.Complete || found.tests.some(({ status }) => status === TestStatus.Failed)) {
      return found;
    }
    const broken = runner.ctx.state.getFiles().filter(({ result }) => result?.state === 'fail');
    return { ...found, tests: [...found.tests, ...broken.map(asFailed)] };
  };
  return runner;
}

function asFailed({ name, filepath, result }) {
  return {
    id: `${name}#`,
    name,
    fileName: filepath,
    timeSpentMs: 0,
    status: TestStatus.Failed,
    failureMessage: result.errors?.[0]?.message ?? 'cannot be loaded',
  };
}

export const strykerPlugins = [
  declareClassPlugin(PluginKind.Checker, 'only-chosen', OnlyChosen),
  declareClassPlugin(PluginKind.Reporter, 'writes-down', WritesDown),
  declareFactoryPlugin(PluginKind.TestRunner, 'vitest-whole', wholeFiles),
];
