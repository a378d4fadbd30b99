import { describe, expect, it } from 'vitest';
import { RULES } from '../../src/cli/registered-rules.ts';
import { jobReach } from '../../src/facts/bench/job-reach.ts';
import { buildFacts } from '../../src/facts/build.ts';
import { drawingOf } from '../../src/facts/drawing/drawing.ts';
import { resolveJob } from '../../src/facts/input/resolve.ts';
import { resultView } from '../../src/facts/result-view.ts';
import { discoverJobs } from '../../src/job/files/discovery.ts';
import { READERS } from '../../src/readers.ts';
import { memoryAccess } from '../memory-access.ts';
import { demoFiles, type Files, libraryOf, readers, TODAY } from '../memory-shop.ts';

/** Freezes a model with all that is in it, so that whoever would change it throws; typed arrays cannot be frozen. */
function frozen<T>(model: T): T {
  if (typeof model !== 'object' || model === null || ArrayBuffer.isView(model) || Object.isFrozen(model)) return model;
  Object.freeze(model);
  for (const value of Object.values(model)) frozen(value);
  return model;
}

const MACHINE = 'machines/shed-60w.machine.yaml';
const jobs: [string, Files][] = [
  ['a toolpath and artwork', demoFiles(MACHINE, 'gate-sign.job.yaml', 'gate-sign.gcode', 'gate-sign.svg')],
  ['artwork alone', demoFiles(MACHINE, 'plant-labels.job.yaml', 'plant-labels.svg')],
  [
    'what falls short',
    demoFiles(MACHINE, 'seed-tray-divider.job.yaml', 'seed-tray-divider.gcode', 'seed-tray-divider.svg'),
  ],
];

describe.each(jobs)('the facts of %s', (_, files) => {
  const [job] = discoverJobs(memoryAccess(files), READERS, [''], false).jobs;
  const input = () => ({
    ...resolveJob(job!, libraryOf(files), { untrusted: false }),
    budget: null,
    today: TODAY,
    readers,
  });

  it('are built without a change to what they are built from', () => {
    const { readers: loaded, ...rest } = input();
    expect(() => buildFacts({ ...frozen(rest), readers: loaded })).not.toThrow();
  });

  it('are the same when they are built again', () => {
    const { input: _first, ...first } = buildFacts(input());
    const { input: _second, ...second } = buildFacts(input());
    expect(JSON.stringify(second)).toBe(JSON.stringify(first));
  });

  it('are changed by nobody: no rule, no result, no drawing', () => {
    const facts = frozen(buildFacts(input()));
    for (const rule of RULES) {
      const options = Object.fromEntries(Object.entries(rule.options).map(([name, option]) => [name, option.default]));
      const answer = rule.check(facts, options);
      if (!('notApplicable' in answer)) expect(() => [...answer]).not.toThrow();
    }
    expect(() => resultView(facts)).not.toThrow();
    expect(() =>
      drawingOf(facts, { findings: [], points: 10_000, reach: jobReach(facts, new Map(), libraryOf({}).citedCuts) }),
    ).not.toThrow();
  });
});
