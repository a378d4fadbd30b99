import { describe, expect, it } from 'vitest';
import { type Files, run, shed } from '../../memory-shop.ts';
import { OUTLINE } from '../outline.ts';

const job = (named: string): Files => ({
  'part.job.yaml': `kerflint: 1\nlens: 2in\nthickness: 3 mm\nartwork: part.svg\n${named}`,
  'part.svg': OUTLINE,
});
const told = (files: Files) => run(files, {}, ['part.job.yaml']).jobs[0]!.findings.map(({ message }) => message);
const SHED = 'machines/shed-60w.machine.yaml';

describe('a machine that nobody knows', () => {
  const named = job('machine: shd-60w\nmaterial: birch-plywood\n');
  const profiles = (count: number): Files =>
    Object.fromEntries(
      Array.from({ length: count }, (_, i) => [
        `machines/den-${i + 10}.machine.yaml`,
        String(shed()[SHED]).replace(/^id: .*/m, `id: den-${i + 10}`),
      ]),
    );

  it('is told with the nearest name and those that the shop and the catalogue have', () => {
    expect(told({ ...named, ...shed() })).toEqual([
      expect.stringMatching(
        /^there is no machine "shd-60w" in the shop or the catalogue\. Did you mean shed-60w\? The shop has shed-60w; the catalogue has (?:bench-[\w-]+, )*bench-[\w-]+\. Name one, or describe it in a \*\.machine\.yaml\.$/,
      ),
    ]);
  });

  it('is told so where the shop has none', () => {
    expect(told(named)[0]).toContain('The shop has none; the catalogue has bench-');
  });

  it.each([
    [8, 'den-16, den-17; the'],
    [9, 'den-16, den-17 and 1 more; the'],
  ])('is told with eight names of %i', (count, listed) => {
    expect(told({ ...named, ...profiles(count) })[0]).toContain(
      `The shop has den-10, den-11, den-12, den-13, den-14, den-15, ${listed} catalogue has`,
    );
  });

  it('is shown cut where its name is long', () => {
    expect(told({ ...job(`machine: ${'m'.repeat(61)}\nmaterial: mdf\n`), ...shed() })[0]).toContain(
      `"${'m'.repeat(60)}…"`,
    );
    expect(told({ ...job(`machine: ${'m'.repeat(60)}\nmaterial: mdf\n`), ...shed() })[0]).toContain(
      `"${'m'.repeat(60)}"`,
    );
  });
});
