import { it } from 'vitest';
import { makeRamp } from '../../src/bench/test-piece/make-ramp.ts';
import { run } from '../memory-shop.ts';
import { bench, checkout, SHED } from '../bench/on-bench.ts';
it('x', () => {
  const made = makeRamp({ ...bench('birch-plywood', 4, SHED), name: 'test', kind: 'driven', schemas: null } as never).value!;
  const result = run(checkout(made), {}, ['test.job.yaml']);
  console.log(result.jobs[0]!.findings.map((f) => f.severity + ' ' + f.message).join('\n'));
});
