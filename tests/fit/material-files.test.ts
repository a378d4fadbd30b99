import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { withRemoval } from '../../fit/material-files.ts';
import type { RemovalValue } from '../../fit/removal-values.ts';
import { material } from '../outside/catalogue-files.ts';

const VALUE: RemovalValue = { jPerMm3: 2.345, spread: 0.4, ownSd: 0.1, sheetSd: 0.1 };
const text = (id: string) => readFileSync(new URL(`../../data/materials/${id}.material.yaml`, import.meta.url), 'utf8');
const written = (id: string) => withRemoval(text(id), material(id), VALUE, 'fitted: by this test');
/** Lines that differ, by what stands there now. */
const changes = (id: string) => {
  const before = text(id).split('\n');
  return written(id)
    .split('\n')
    .filter((line, i) => line !== before[i]);
};

describe('a fitted value in a material’s file', () => {
  it('changes its value, spread and source to three digits, the kerf’s threshold with it, and nothing else', () => {
    expect(changes('mdf')).toEqual([
      '  value: 2.35 J/mm3',
      '  spread: 40 %',
      '  source: "fitted: by this test"',
      expect.stringMatching(/^kerf-threshold: \{ value: 0\.115 J\/mm2, source: "derived: 3\.13 kJ\/g × the mass/),
    ]);
    expect(written('mdf').split('\n').length).toBe(text('mdf').split('\n').length);
  });

  it('changes the threshold of what absorbs weakly by its depth', () => {
    expect(changes('hdpe').at(-1)).toMatch(
      /^kerf-threshold: \{ value: 2\.06 J\/mm2, source: "derived: 2\.35 J\/mm³ × 0\.88 mm/,
    );
  });

  it('keeps comments', () => {
    const commented = `# first\n${text('mdf').replace('hazard:', '# why\nhazard:')}`;
    const result = withRemoval(commented, material('mdf'), VALUE, 'fitted: by this test');
    expect(result.startsWith('# first\n')).toBe(true);
    expect(result).toContain('# why\nhazard:');
  });

  it('is refused where the file has no energy to write over', () => {
    expect(() => withRemoval('kerflint: 1\n', material('mdf'), VALUE, 'x')).toThrow(/no removal energy/);
  });
});
