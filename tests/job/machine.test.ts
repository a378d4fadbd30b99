import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readMachine } from '../../src/job/machine/machine.ts';
import { bytesSource } from '../../src/source/source.ts';
import { changed, exampleSource, MACHINE } from './examples.ts';

describe('the machine profile', () => {
  it('says what the machine is, in mm, W, s and shares', () => {
    const { value, problems } = readMachine(exampleSource(MACHINE), 'shop');
    expect(problems).toEqual([]);
    expect(value).toMatchObject({
      id: 'bench-60w',
      rank: 'shop',
      file: 'bench-60w.machine.yaml',
      source: {
        kind: 'co2',
        wavelengthUm: 10.6,
        ratedW: 60,
        measuredW: 54,
        curve: null,
        measuredOn: '2026-09-01',
        atCorners: 0.94,
        hoursH: 900,
        ceiling: 0.85,
        floor: 0.12,
      },
      beam: { diameterMm: 6, m2: 1.2 },
      lenses: [
        { id: '1.5in', focalMm: 38.1, shape: 'meniscus', material: 'ZnSe', standoffMm: 5, spotMm: null },
        { id: '2in', focalMm: 50.8 },
        { id: '4in', focalMm: 101.6, spotMm: { xMm: 0.27, yMm: 0.27 } },
      ],
      travel: { xMm: 600, yMm: 400, zMm: 40 },
      motion: {
        speedMmPerS: 500,
        rapidMmPerS: 600,
        accelerationMmPerS2: 3000,
        cornerDeviationMm: 0.02,
        airDelayS: 0.5,
        stated: true,
      },
      artwork: { pxPerInch: 96, stated: true },
      controller: {
        power: { word: 'S', full: 1000 },
        m4: 'scaled-with-speed',
        beamOffOnRapid: true,
        beamOffWhenStopped: true,
        zZero: 'waist-on-face',
        arcToleranceMm: 0.05,
        harmless: new Map(),
        blockDelete: null,
        stated: true,
      },
      air: { maximumBar: 2, switched: null },
      rates: {
        machinePerH: { amount: 18, currency: 'EUR' },
        operatorPerH: { amount: 24, currency: 'EUR' },
        inputW: 1200,
        energyPerKWh: { amount: 0.32, currency: 'EUR' },
        tube: { price: { amount: 420, currency: 'EUR' }, lifeH: 2000 },
      },
    });
  });

  it('needs only source, beam, lenses and travel, and says which numbers are defaults', () => {
    const short = changed(MACHINE, /^(motion|artwork|controller|air|rates):[\s\S]*/m, '');
    const { value, problems } = readMachine(short, 'shop');
    expect(problems).toEqual([]);
    expect(value).toMatchObject({
      motion: { stated: false },
      artwork: { stated: false },
      controller: { stated: false, beamOffOnRapid: null, beamOffWhenStopped: null },
      air: null,
      rates: { machinePerH: null, tube: null },
    });
  });

  it.each([
    ['source', /^source:\n(?: .*\n)+/m],
    ['lenses', /^lenses:\n(?: .*\n)+/m],
    ['travel', /^travel.*\n/m],
  ])('cannot do without %s', (key, lines) => {
    const { problems } = readMachine(changed(MACHINE, lines, ''), 'shop');
    expect(problems.map(({ code, args }) => [code, args.text])).toEqual([['missing-key', `${key} is missing`]]);
  });

  it('takes a power curve, and its last reading as the measured power', () => {
    const curve = changed(MACHINE, 'measured: 54 W ', 'curve: { 100 %: 54 W, 10 %: 2 W, 50 %: 30 W } ');
    expect(readMachine(curve, 'shop').value?.source).toMatchObject({
      measuredW: 54,
      curve: [
        { fraction: 0.1, watts: 2 },
        { fraction: 0.5, watts: 30 },
        { fraction: 1, watts: 54 },
      ],
    });
  });

  it('knows the codes that bear on nothing, however they are written, and whether marked lines run', () => {
    const says = 'harmless: { m042: air valve, G12.1: polar light }\n  block-delete: skipped\n  z-zero:';
    const { value, problems } = readMachine(changed(MACHINE, 'z-zero:', says), 'shop');
    expect(problems).toEqual([]);
    expect(value?.controller).toMatchObject({ blockDelete: 'skipped' });
    expect([...value!.controller.harmless]).toEqual([
      ['M42', 'air valve'],
      ['G12.1', 'polar light'],
    ]);
  });

  it.each([
    ['{ maximum: 2 bar, on: M8, off: M9 }', { maximumBar: 2, switched: { on: 'M8', off: 'M9' } }],
    ['{ on: M7, off: M9 }', { maximumBar: null, switched: { on: 'M7', off: 'M9' } }],
  ])('knows how the air is switched: %s', (says, air) => {
    const { value, problems } = readMachine(changed(MACHINE, '{ maximum: 2 bar }', says), 'shop');
    expect(problems).toEqual([]);
    expect(value?.air).toEqual(air);
  });

  it.each(['{ on: M8 }', '{ off: M9 }', '{ on: M106, off: M107 }', '{}'])('takes no half word for it: %s', (says) => {
    const { value, problems } = readMachine(changed(MACHINE, '{ maximum: 2 bar }', says), 'shop');
    expect(value).toBeNull();
    expect(problems).not.toEqual([]);
    expect(problems.every(({ args }) => /air|M7|M9|on|off/.test(String(args.text)))).toBe(true);
  });

  it('leaves unknown what the profile calls unknown', () => {
    const unknown = changed(MACHINE, 'beam-off-on-rapid: true', 'beam-off-on-rapid: unknown');
    expect(readMachine(unknown, 'shop').value?.controller.beamOffOnRapid).toBeNull();
  });

  it.each<[string, string | RegExp, string, string]>([
    [
      'another name than its file',
      'id: bench-60w',
      'id: bench-80w',
      'the id is "bench-80w" and the file is called "bench-60w"',
    ],
    ['two lenses of one id', 'id: 2in', 'id: 4in', 'a lens "4in" stands above'],
    ['a lens that is a bare number', 'id: 2in', 'id: "2"', 'a lens id needs a letter'.slice(10)],
    ['no lens', /^lenses:\n(?: .*\n)+/m, 'lenses: []\n', 'name at least one lens'],
    ['a wavelength of another kind', '10.6 um', '450 nm', '0.45 um is no wavelength of a co2 source (9 to 11 um)'],
    ['a floor at the ceiling', 'floor: 12 %', 'floor: 85 %', 'the floor is not below the ceiling'],
    ['a falling curve', 'measured: 54 W', 'curve: { 10 %: 2 W, 50 %: 60 W, 100 %: 54 W }', 'the curve falls at 100 %'],
    ['a curve of one point', 'measured: 54 W', 'curve: { 100 %: 54 W }', 'at least two settings'],
    ['a curve past full', 'measured: 54 W', 'curve: { 50 %: 2 W, 150 %: 60 W }', 'more than 100 %'],
    [
      'a curve without settings',
      'measured: 54 W',
      'curve: { half: 30 W, 100 %: 54 W }',
      'a setting belongs here, such as 50 %',
    ],
    [
      'two readings at full',
      'measured: 54 W',
      'measured: 54 W\n  curve: { 50 %: 25 W, 100 %: 50 W }',
      'the curve says 50 W at 100 %, measured says 54 W',
    ],
    ['a beam better than light', 'm2: 1.2', 'm2: 0.9', '0.9 must be at least 1'],
    [
      'a harmless word that is no code',
      'z-zero:',
      'harmless: { air: valve }\n  z-zero:',
      'a code belongs here, such as M42',
    ],
    ['a harmless code without a reason', 'z-zero:', 'harmless: [M42]\n  z-zero:', 'harmless'],
    ['a block delete that is neither', 'z-zero:', 'block-delete: maybe\n  z-zero:', 'runs'],
    ['a bare power', 'rated: 60 W', 'rated: 60', 'did you mean 60 W?'],
    [
      'a misspelt key deep down',
      'corner-deviation',
      'corner-deviaton',
      'not known in motion: did you mean corner-deviation?',
    ],
    ['a gate that is neither', 'beam-off-on-rapid: true', 'beam-off-on-rapid: maybe', 'write true, false or unknown'],
    ['a speed in the wrong dimension', '3000 mm/s2', '3000 mm/s', 'is a speed where an acceleration belongs'],
  ])('refuses %s', (_, from, to, text) => {
    const { value, problems } = readMachine(changed(MACHINE, from, to), 'shop');
    expect(value).toBeNull();
    expect(problems[0]!.args.text).toContain(text);
    expect(problems[0]!.place.line).toBeGreaterThan(1);
  });
});

describe('the machines to copy', () => {
  const folder = new URL('../../data/machines/', import.meta.url);
  const names = readdirSync(folder);

  it('are there', () => {
    expect(names).toEqual(['bench-100w.machine.yaml', 'bench-60w.machine.yaml', 'bench-diode-10w.machine.yaml']);
  });

  it.each(names)('%s reads without a problem and names its schema', (name) => {
    const bytes = readFileSync(new URL(name, folder));
    expect(readMachine(bytesSource(name, bytes), 'catalogue').problems).toEqual([]);
    expect(bytes.toString()).toMatch(/^# yaml-language-server: \$schema=\.\.\/\.\.\/schemas\/machine\.schema\.json\n/);
  });
});
