import { matchesGlob, relative } from 'node:path';
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

const TESTS: string[] = JSON.parse(process.env['KERFLINT_MUTANT_TESTS']!);

/** In the order of the list: the first that fails ends the run. */
class AsListed extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const place = ({ moduleId }: TestSpecification) =>
      TESTS.findIndex((pattern) => matchesGlob(relative(process.cwd(), moduleId), pattern));
    return files.sort((a, b) => place(a) - place(b));
  }
}

// One mutant is in the code of a run, so all its files may share the modules.
export default defineConfig({
  test: {
    include: TESTS,
    testTimeout: 0,
    isolate: false,
    sequence: { sequencer: AsListed },
    env: { NO_COLOR: '1' },
  },
});
