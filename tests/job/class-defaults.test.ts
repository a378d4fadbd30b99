// What a profile of four facts is taken to be. The kinds, ratings and focal lengths are invented; what the figures are held against is
// named beside each check.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { beamOf } from '../../src/facts/cuts/optics.ts';
import { classDefaults, lensIdOf } from '../../src/job/machine/class-defaults.ts';
import { readMachine } from '../../src/job/machine/machine.ts';
import type { Machine, SourceKind } from '../../src/job/model.ts';
import { depthOfFocusMm } from '../../src/physics/beam/focused-beam.ts';
import { textSource } from '../../src/source/source.ts';
import { changed, exampleSource, MACHINE } from './examples.ts';

const KINDS: readonly SourceKind[] = ['co2', 'diode', 'fibre'];
const FOCALS: Record<SourceKind, readonly string[]> = {
  co2: ['1.5 in', '2 in', '63.5 mm', '4 in'],
  diode: ['8 mm', '30 mm', '40 mm', '50 mm'],
  fibre: ['100 mm', '160 mm', '254 mm'],
};

function profile(kind: SourceKind, rated: number, focal: string, more = ''): Machine {
  const text = `kerflint: 1\nid: garden\nsource: { kind: ${kind}, rated: ${rated} W }\nlenses: [{ focal: ${focal} }]\ntravel: { x: 500 mm, y: 300 mm }\n${more}`;
  const { value, problems } = readMachine(textSource('garden.machine.yaml', text), 'shop');
  expect(problems).toEqual([]);
  return value!;
}

describe('a profile of four facts', () => {
  it.each(KINDS)('of a %s source reads, and tells all that it leaves open', (kind) => {
    const machine = profile(kind, 40, FOCALS[kind][1]!);
    const lens = machine.lenses[0]!;
    const expected = classDefaults({ kind, ratedW: 40, lenses: [lens] }).map(({ key }) => key);
    // What a lens is ground of is nothing to a spot that is assumed as such.
    const told = kind === 'diode' ? expected.filter((key) => !/\.(?:shape|material)$/.test(key)) : expected;
    expect(machine.assumed.map(({ key }) => key)).toEqual(told);
    expect(machine.invented).toBe(false);
  });

  it.each(KINDS)('never takes a power scale for granted, nor what the beam of a %s source does unasked', (kind) => {
    const { controller } = profile(kind, 40, '50 mm');
    expect(controller).toMatchObject({
      power: null,
      beamOffOnRapid: null,
      beamOffWhenStopped: null,
      blockDelete: null,
    });
    const keys = classDefaults({ kind, ratedW: 40, lenses: [{ id: '50mm', focalMm: 50 }] }).map(({ key }) => key);
    expect(keys.filter((key) => /power|beam-off|block/.test(key))).toEqual([]);
  });

  it('says of each default where it is from', () => {
    const all = KINDS.flatMap((kind) => classDefaults({ kind, ratedW: 40, lenses: [{ id: '50mm', focalMm: 50 }] }));
    for (const { basis, spread } of all) {
      expect(basis.length).toBeGreaterThan(10);
      expect(spread).toBeGreaterThanOrEqual(0);
      expect(spread).toBeLessThan(0.5);
    }
  });

  it('leaves nothing open where all is stated', () => {
    expect(readMachine(exampleSource(MACHINE), 'shop').value?.assumed).toEqual([]);
  });

  it.each([
    ['ceiling: 85 %', 'source.ceiling', (m: Machine) => m.source.ceiling, 0.85],
    ['floor: 12 %', 'source.floor', (m: Machine) => m.source.floor, 0.1],
  ] as const)('takes the usual where %s is left out', (line, key, get, value) => {
    const source = changed(MACHINE, new RegExp(`^ +${line}.*\n`, 'm'), '');
    const machine = readMachine(source, 'shop').value!;
    expect(machine.assumed.map((one) => one.key)).toEqual([key]);
    expect(get(machine)).toBe(value);
  });

  it('leaves out a usual limit that what is stated contradicts', () => {
    const high = profile('co2', 40, '2 in').source;
    expect([high.floor, high.ceiling]).toEqual([0.1, 0.85]);
    const text = (more: string) =>
      `kerflint: 1\nid: garden\nsource: { kind: co2, rated: 40 W, ${more} }\nlenses: [{ focal: 2 in }]\ntravel: { x: 500 mm, y: 300 mm }\n`;
    const limits = (more: string) => {
      const { floor, ceiling } = readMachine(textSource('garden.machine.yaml', text(more)), 'shop').value!.source;
      return [floor, ceiling];
    };
    expect(limits('floor: 90 %')).toEqual([0.9, null]);
    expect(limits('ceiling: 8 %')).toEqual([null, 0.08]);
  });
});

describe('what a lens is called that has no name', () => {
  it.each([
    [50.8, '2in'],
    [38.1, '1.5in'],
    [63.5, '2.5in'],
    [50, '50mm'],
    [8, '8mm'],
  ])('%s mm: %s', (focalMm, id) => {
    expect(lensIdOf(focalMm)).toBe(id);
  });

  it('is what an id may be, whatever the focal length', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.5, max: 2000, noNaN: true }), (focalMm) => {
        expect(lensIdOf(focalMm)).toMatch(/^(?=.*[A-Za-z])[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/);
      }),
    );
  });

  it('is told twice where two lenses have one focal length', () => {
    const text = changed(MACHINE, /id: 1\.5in, focal: 1\.5 in/, 'focal: 2 in');
    const { problems } = readMachine(text, 'shop');
    expect(problems.map(({ args }) => args.text)).toEqual(['a lens "2in" stands above']);
  });
});

describe('the usual beam', () => {
  const cases = KINDS.flatMap((kind) =>
    [5, 10, 20, 40, 60, 100, 150].flatMap((rated) => FOCALS[kind].map((focal) => [kind, rated, focal] as const)),
  );
  it.each(cases)('of a %s source of %s W under %s makes a plausible spot', (kind, rated, focal) => {
    const machine = profile(kind, rated, focal);
    const { beam } = beamOf(machine, machine.lenses[0]!);
    expect(beam).not.toBeNull();
    // Common practice, no source: nobody cuts with less than 0.03 mm or more than 0.45 mm, nor with a depth of focus of under 0.3 mm.
    expect(beam!.spotMm).toBeGreaterThan(0.03);
    expect(beam!.spotMm).toBeLessThan(0.45);
    expect(depthOfFocusMm(beam!, 'sqrt2')).toBeGreaterThan(0.3);
  });

  it('of a tube fills the bore that its rating has, and no more', () => {
    // Memory: glass tubes of 40 to 150 W have bores of some 5 to 12 mm, and the beam fills most of it.
    for (const rated of [40, 60, 80, 100, 150]) {
      const { diameterMm } = profile('co2', rated, '2 in').beam;
      expect(diameterMm).toBeGreaterThanOrEqual(4);
      expect(diameterMm).toBeLessThanOrEqual(12);
    }
  });
});
