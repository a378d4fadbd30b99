import { describe, expect, it } from 'vitest';
import { assumedOf } from '../../../src/facts/assumed/assumed.ts';
import { assumedText, inventedText } from '../../../src/facts/assumed/assumed-text.ts';
import { machine } from '../../rules/build-job.ts';

const assumption = (key: string, spread = 0) => ({ key, value: 1, unit: 'mm', spread, basis: `usual for ${key}` });
const RATED = { fullW: 60, spread: 0.15, basis: 'rated' } as const;
const MEASURED = { ...RATED, basis: 'measured' } as const;
const LENS = machine().lenses[0]!;

/** The keys that a job on a machine with these assumptions rests on; those in doubt with a question mark. */
function keys(assumed: ReturnType<typeof assumption>[], change: Partial<Parameters<typeof assumedOf>[0]> = {}) {
  const asked = { lens: LENS, power: MEASURED, calibratedHere: false, hasToolpath: true, answer: null };
  const found = assumedOf({ ...asked, machine: machine({ assumed }), ...change });
  expect(found.narrows).toBeNull();
  return found.keys.map(({ key, inDoubt }) => `${key}${inDoubt ? '?' : ''}`);
}

describe('what of a machine was assumed', () => {
  it('is what the profile leaves open, as it was taken', () => {
    const asked = { lens: LENS, power: MEASURED, calibratedHere: false, hasToolpath: true, answer: null };
    const assumed = [{ ...assumption('beam.diameter', 0.2), value: 6 }];
    expect(assumedOf({ ...asked, machine: machine({ assumed }) }).keys).toEqual([
      { key: 'beam.diameter', value: 6, unit: 'mm', basis: 'usual for beam.diameter', inDoubt: true },
    ]);
    expect(assumedOf({ ...asked, machine: null })).toEqual({ keys: [], narrows: null });
  });

  it('has what is in doubt first, else in the order of the profile', () => {
    expect(keys([assumption('motion.speed'), assumption('beam.m2', 0.1), assumption('motion.rapid')])).toEqual([
      'beam.m2?',
      'motion.speed',
      'motion.rapid',
    ]);
  });

  it('has the power that nobody measured, in the seller’s watts', () => {
    expect(keys([], { power: RATED })).toEqual(['source.measured?']);
    expect(keys([], { power: MEASURED })).toEqual([]);
    expect(keys([], { power: { ...RATED, basis: 'curve' } })).toEqual([]);
    expect(keys([], { power: null })).toEqual([]);
    const asked = { lens: LENS, power: RATED, calibratedHere: false, hasToolpath: true, answer: null };
    expect(assumedOf({ ...asked, machine: machine({ source: { ratedW: 80 } }) }).keys).toEqual([
      {
        key: 'source.measured',
        value: 80,
        unit: 'W',
        basis: "the seller's rating, never measured at the work; a source in use brings less",
        inDoubt: true,
      },
    ]);
  });

  it('is not in doubt where coupons of this machine hold it, and then no power is asked for', () => {
    expect(keys([assumption('beam.m2', 0.1)], { power: RATED, calibratedHere: true })).toEqual(['beam.m2']);
  });

  it('is no matter of the controller where there is no toolpath', () => {
    expect(keys([assumption('controller.m4')], { hasToolpath: true })).toEqual(['controller.m4']);
    expect(keys([assumption('controller.m4')], { hasToolpath: false })).toEqual([]);
  });

  it('is that of the lens in use alone', () => {
    const both = [assumption('lenses.2in.shape'), assumption('lenses.4in.shape'), assumption('lenses.2inch.shape')];
    expect(keys(both)).toEqual(['lenses.2in.shape']);
    expect(keys(both, { lens: machine().lenses[1]! })).toEqual(['lenses.4in.shape']);
    expect(keys(both, { lens: null })).toEqual([]);
  });

  it('is nothing that a stated spot makes needless', () => {
    const beam = ['beam.m2', 'source.wavelength', 'beam.diameter'].map((key) => assumption(key));
    const stated = { ...LENS, spotMm: { xMm: 0.2, yMm: 0.2 } };
    expect(keys(beam, { lens: stated })).toEqual(['beam.diameter']);
    expect(keys(beam)).toEqual(['beam.m2', 'source.wavelength', 'beam.diameter']);
    expect(keys(beam, { lens: null })).toEqual(['beam.m2', 'source.wavelength', 'beam.diameter']);
  });
});

describe('what was assumed, in words', () => {
  const key = (name: string, inDoubt = false) => ({ key: name, value: 1, unit: 'mm', basis: 'memory', inDoubt });
  const START = 'Assumed, as the profile does not say:';

  it('names three where nothing is in doubt, and counts the rest', () => {
    expect(assumedText({ assumed: [key('a'), key('b'), key('c')] })).toBe(`${START} a 1 mm, b 1 mm and c 1 mm.`);
    expect(assumedText({ assumed: [key('a'), key('b'), key('c'), key('d'), key('e')] })).toBe(
      `${START} a 1 mm, b 1 mm, c 1 mm and 2 more.`,
    );
  });

  it('names all that is in doubt', () => {
    const four = ['a', 'b', 'c', 'd'].map((name) => key(name, true));
    expect(assumedText({ assumed: four })).toBe(`${START} a 1 mm, b 1 mm, c 1 mm and d 1 mm.`);
    expect(assumedText({ assumed: [key('e'), ...four] })).toBe(`${START} a 1 mm, b 1 mm, c 1 mm, d 1 mm and 1 more.`);
  });

  it('takes a key for a measurement only where it is just that', () => {
    const said = (named: string) =>
      assumedText({ assumed: [key('a')], narrows: { key: named, fromShare: 0.4, toShare: 0.3 } });
    expect(said('source.measured')).toContain('. A measured power would take the depth from ± 40 % to ± 30 %.');
    for (const other of ['source.measured-on', 'my.source.measured', 'my.beam.m2', 'beam.m2x', 'beam.diameter2']) {
      expect(said(other)).toContain(`. A stated ${other} would`);
    }
    for (const other of ['lenses.2in.spotless', 'my.lenses.2in.spot', 'my.beam.diameter', 'sourcexmeasured']) {
      expect(said(other)).toContain(`. A stated ${other} would`);
    }
  });

  it('a made-up machine is told by its name, where it has one', () => {
    const end = 'are invented, for a demonstration: put in your own before you cut.';
    expect(inventedText('shed-60w', true)).toBe(`The numbers of shed-60w ${end}`);
    expect(inventedText(null, true)).toBe(`The numbers of the machine ${end}`);
    expect(inventedText('shed-60w', false)).toBe('');
  });
});
