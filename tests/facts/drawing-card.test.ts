import { describe, expect, it } from 'vitest';
import { setupCard } from '../../src/facts/drawing/setup-card.ts';
import { factsOf, shed } from '../memory-shop.ts';

describe('the set-up card', () => {
  it('has a row for each recipe of a task', () => {
    const facts = factsOf({
      ...shed(),
      'rim.job.yaml':
        'kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 3 mm\nzero: machine\ntoolpath: rim.gcode\n',
      'rim.gcode': 'G21 G90\nM8\nM4 S800 F600\nG0 X10 Y10\nG1 X60\nS500\nG1 Y60\nS800\nG1 X10\nM5\nM9\nM2\n',
    });
    const { recipes } = setupCard(facts, { cure: null, proposes: false });
    expect(recipes.map(({ stated }) => stated?.setting)).toEqual([0.8, 0.5]);
  });
});
