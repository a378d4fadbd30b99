import { describe, expect, it } from 'vitest';
import { proposedFor } from '../../../src/facts/what-if/proposed.ts';
import { type Files, factsOf, run, shed } from '../../memory-shop.ts';
import { OUTLINE } from '../outline.ts';

const job = (thickness: string, tasks = ''): Files => ({
  ...shed(),
  'part.job.yaml': `kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: ${thickness}\nartwork: part.svg\n${tasks}`,
  'part.svg': OUTLINE,
});

describe('artwork of which no settings are stated', () => {
  it('has the proposed recipe to try', () => {
    const facts = factsOf(job('3 mm'));
    const { setting, speedMmPerS, passes, focusMm, focusStepMm } = facts.proposals[0]!.proposed!;
    const [only, ...others] = proposedFor(facts, 0);
    expect(others).toEqual([]);
    expect(only!.change).toEqual({ cuts: [{ cut: 0, setting, speedMmPerS, passes, focusMm, focusStepMm }] });
    expect(only!.text).toContain(`${speedMmPerS} mm/s`);
  });

  it('has nothing to try where no recipe is sure, and in its result what could be cut instead', () => {
    expect(proposedFor(factsOf(job('30 mm')), 0)).toEqual([]);
    const { reach } = run(job('30 mm'), {}, ['part.job.yaml']).jobs[0]!.cuts[0]!;
    expect(reach!.proposed).toBeNull();
    // What no number limits has none.
    expect(reach!.limitedBy).toContainEqual({ kind: 'named-lens', value: null });
    expect(reach!.limitedBy).toContainEqual({ kind: 'ceiling', value: 0.85 });
    const { stacked, thickestMm } = reach!.thinner!;
    expect(stacked!.layers * stacked!.layerMm).toBeCloseTo(30, 9);
    // Layers are of a thickness that is cut; what can be cut at most lies between one of them and the sheet.
    expect(stacked!.layerMm).toBeLessThanOrEqual(thickestMm!);
    expect(thickestMm).toBeLessThan(30);
  });
});

describe('a cut whose stated settings fall short', () => {
  const planned = (speed: string) =>
    `tasks:\n  - { name: outline, aim: through, power: 80 %, speed: ${speed}, air: 1 bar }\n`;

  it('has the remedies to try that its finding names, each as a change of that cut', () => {
    const facts = factsOf(job('3 mm', planned('60 mm/s')));
    const proposed = proposedFor(facts, 0);
    expect(proposed.map(({ text }) => text)).toEqual(facts.cuts[0]!.remedies.map(({ text }) => text));
    expect(proposed.length).toBeGreaterThan(1);
    for (const { change } of proposed) expect(change.cuts.map(({ cut }) => cut)).toEqual([0]);
  });

  it('has nothing to try where no setting does it', () => {
    const facts = factsOf(job('400 mm', planned('60 mm/s')));
    expect(facts.cuts[0]!.remedies.map(({ kind }) => kind)).toEqual(['none']);
    expect(proposedFor(facts, 0)).toEqual([]);
  });
});
