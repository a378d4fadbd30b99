import * as v from 'valibot';
import { count, id, length, powerSetting, quantity, spot, strict, version, words } from '../yaml/shape.ts';

/** Cuts that others published, `<id>.evidence.yaml`: one source a file. No row stands without the source's citation. */

const power = (describe: string) => quantity('power', describe, { max: { value: 100_000, text: '100 kW' } });

const inferred = (describe: string) =>
  v.optional(v.pipe(v.array(words('what was inferred', 60)), v.maxLength(20), v.description(describe)));

const machine = strict({
  kind: v.picklist(['co2', 'diode', 'fibre']),
  rated: power("the seller's power"),
  lens: v.optional(length('focal length of the lens, where the source states it')),
  spot: v.optional(spot('1/e² spot, where the source states it')),
  'spot-between': v.optional(
    v.pipe(
      strict({ from: length('narrowest spot'), to: length('widest spot') }),
      v.description('where the source states neither lens nor spot and the fit treats the spot as unknown'),
    ),
  ),
});

const cut = strict({
  id: id('stable name of the row, of its own among all sources'),
  material: id('id of a material of the catalogue'),
  thickness: length('as stated, converted'),
  rated: v.optional(power("the seller's power, where it differs from the source's other rows")),
  power: powerSetting('setting as stated, or the power at the work'),
  speed: quantity('speed', 'as stated, converted'),
  passes: v.optional(count('passes; left out: 1', 1, 500)),
  focus: v.optional(length("the waist above (+) or below (-) the sheet's top face, where stated", 'any')),
  outcome: v.pipe(
    v.picklist(['cut', 'not', 'limit']),
    v.description('cut: it parted; not: it did not; limit: the highest speed at which it still parted'),
  ),
  depth: v.optional(length('measured depth, where it did not part and the source states one')),
  use: v.pipe(
    v.picklist(['daily', 'test', 'bracket']),
    v.description(
      "daily: a settled setting, with a margin that is not stated; test: a single cut; bracket: one side of a boundary, or the boundary itself, by the source's own words",
    ),
  ),
  bracket: v.optional(id('which boundary of this source the row is a side of')),
  quality: v.pipe(
    v.picklist(['A', 'B', 'C']),
    v.description('A: all stated by one who cut it; B: one thing inferred; C: two or more'),
  ),
  worn: v.optional(
    v.pipe(v.literal(true), v.description("a worn or dirty machine, by the source's own words: not scored")),
  ),
  inferred: inferred('what of this row is inferred'),
  note: v.optional(words('what else the source says', 300)),
});

const energy = strict({
  id: id('stable name of the row'),
  matter: words('what was measured', 120),
  energy: v.optional(quantity('energy-per-mass', 'energy per mass removed, power counted at the work')),
  from: v.optional(quantity('energy-per-mass', 'least of a range')),
  to: v.optional(quantity('energy-per-mass', 'most of a range')),
  materials: v.optional(v.pipe(v.array(id('id of a material of the catalogue')), v.maxLength(100))),
});

export const evidenceSchema = v.pipe(
  strict({
    kerflint: version,
    id: id('short name of the source; also the file name before .evidence.yaml'),
    citation: words('where it was published, so that a reader can find it', 500),
    note: v.optional(words('what to know about the source', 500)),
    machine: v.optional(machine),
    inferred: inferred('what of every row is inferred, the source not stating it'),
    cuts: v.optional(v.pipe(v.array(cut), v.minLength(1), v.maxLength(1000, 'more than 1000 rows'))),
    energies: v.optional(v.pipe(v.array(energy), v.minLength(1), v.maxLength(100))),
  }),
  v.title('kerflint evidence'),
  v.description('Cuts and removal energies that one source published, with what came of them.'),
);

export type EvidenceText = v.InferOutput<typeof evidenceSchema>;
