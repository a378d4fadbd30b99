// Two plugins for Stryker. The checker lets pass only the mutants that were drawn: a range to mutate takes in every mutant inside it.
// The reporter writes down what became of each mutant as soon as that is known: a run of a whole room takes long, and may be broken off.
import { appendFileSync, readFileSync } from 'node:fs';
import { relative } from 'node:path';
import { declareClassPlugin, PluginKind } from '@stryker-mutator/api/plugin';
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

export const strykerPlugins = [
  declareClassPlugin(PluginKind.Checker, 'only-chosen', OnlyChosen),
  declareClassPlugin(PluginKind.Reporter, 'writes-down', WritesDown),
];
