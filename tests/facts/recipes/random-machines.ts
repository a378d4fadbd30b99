import fc from 'fast-check';
import { readMachine } from '../../../src/job/machine/machine.ts';
import type { Machine, Material } from '../../../src/job/model.ts';
import { textSource } from '../../../src/source/source.ts';
import { libraryOf } from '../../memory-shop.ts';

const library = libraryOf({});

/** Materials that both kinds of source cut, thin and thick, with and without a clean-speed floor. */
const MATERIALS = ['birch-plywood', 'cast-acrylic', 'mdf', 'card', 'cork', 'oak', 'vegetable-tanned-leather'] as const;

export const materialOf = (id: string): Material => library.material(id).value!;

/** A machine as its profile has it. */
export interface RandomMachine {
  readonly text: string;
  readonly machine: Machine;
}

/** Sheets and machines as workshops might have them; the same each time for a seed. */
export const machines: fc.Arbitrary<RandomMachine> = fc
  .record({
    kind: fc.constantFrom('co2', 'co2', 'diode'),
    power: fc.double({ min: 0.1, max: 1, noNaN: true }),
    measured: fc.boolean(),
    ceiling: fc.constantFrom(null, 0.85, 0.7),
    floor: fc.constantFrom(null, 0.1),
    focals: fc.subarray([38.1, 50.8, 63.5, 101.6], { minLength: 1, maxLength: 3 }),
    diameterMm: fc.integer({ min: 4, max: 9 }),
    z: fc.constantFrom('', ', z: 40 mm'),
    zZero: fc.constantFrom('fixed', 'waist-on-face'),
    speed: fc.constantFrom(60, 200, 500),
  })
  .map((said) => {
    const co2 = said.kind === 'co2';
    const ratedW = Math.round((co2 ? 150 : 30) * said.power);
    const lenses = said.focals.map(
      (focal, i) =>
        `  - { id: lens-${i + 1}, focal: ${focal} mm, shape: meniscus, material: ${co2 ? 'ZnSe' : 'glass'}${co2 ? '' : ', spot: 0.08 mm x 0.11 mm'} }`,
    );
    const text = `kerflint: 1
id: random
source:
  kind: ${said.kind}
  wavelength: ${co2 ? '10.6 um' : '450 nm'}
  rated: ${Math.max(3, ratedW)} W
${said.measured ? `  measured: ${Math.max(2.5, ratedW * 0.9).toFixed(1)} W\n` : ''}${said.ceiling === null ? '' : `  ceiling: ${said.ceiling * 100} %\n`}${said.floor === null ? '' : `  floor: ${said.floor * 100} %\n`}beam: { diameter: ${said.diameterMm} mm, m2: ${co2 ? 1.2 : 8} }
lenses:
${(co2 ? lenses : lenses.slice(0, 1)).join('\n')}
travel: { x: 600 mm, y: 400 mm${said.z} }
motion: { speed: ${said.speed} mm/s, rapid: ${said.speed} mm/s, acceleration: 3000 mm/s2, corner-deviation: 0.02 mm }
controller:
  power: { word: S, full: 1000 }
  z-zero: ${said.zZero}
`;
    const { value, problems } = readMachine(textSource('random.machine.yaml', text), 'shop');
    if (value === null) throw new Error(problems[0]?.args.text);
    return { text, machine: value };
  });

/** A material's id and a thickness in tenths of a mm. */
export const sheets: fc.Arbitrary<{ material: string; mm: number }> = fc.record({
  material: fc.constantFrom(...MATERIALS),
  mm: fc.oneof(fc.integer({ min: 3, max: 60 }), fc.integer({ min: 60, max: 400 })).map((tenths) => tenths / 10),
});

export const SQUARE =
  '<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="300mm" viewBox="0 0 400 300"><path fill="none" stroke="#2b8a3e" d="M20 20H380V280H20Z"/></svg>';
