import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { inputOfPublished } from '../src/facts/evidence/published-cut.ts';
import { type Evidence, type PublishedCut, readEvidence } from '../src/job/evidence/evidence.ts';
import type { Loaded } from '../src/job/files/problem.ts';
import { readMaterial } from '../src/job/material/material.ts';
import type { Material } from '../src/job/model.ts';
import { type CutInput, throughProbability } from '../src/physics/doubt/predict.ts';
import { powerFactorFor } from '../src/physics/march/inverse.ts';
import { type Source, textSource } from '../src/source/source.ts';
import { classOf, type MaterialClass } from './classes.ts';
import { curveThrough, type SmoothCurve } from './smooth-curve.ts';

/** One published cut, ready to be fitted: what the march makes of it as its material's energy moves. */
export interface Row {
  id: string;
  evidence: Evidence;
  cut: PublishedCut;
  material: Material;
  materialClass: MaterialClass;
  /** The cut at the energy that was taken before the evidence. */
  input: CutInput;
  /** ln of the power delivered over the power needed, against ln of the removal energy over that before the evidence. */
  logRatio: SmoothCurve;
  /** 1σ of that from focus, thickness and divergence, as the product doubts them. */
  otherSd: number;
  /** Share of full power; null where watts were stated. */
  setting: number | null;
}

/** Changes a row for a trial: its input, or what power it needs. */
export interface RowChange {
  input?: (input: CutInput, cut: PublishedCut) => CutInput;
  powerFactor?: (input: CutInput, material: Material) => number;
}

/** Every material of the catalogue by its id, read from the repository's root. */
export function readCatalogue(root = '.'): Map<string, Material> {
  const all = readFolder(root, 'data/materials', (source) => readMaterial(source, 'catalogue'));
  return new Map(all.map((material) => [material.id, material]));
}

/** Every source of evidence, in the order of their names. */
export function readAllEvidence(root = '.'): Evidence[] {
  return readFolder(root, 'data/evidence', readEvidence);
}

function readFolder<T>(root: string, folder: string, read: (source: Source) => Loaded<T>): T[] {
  return readdirSync(join(root, folder))
    .sort()
    .map((file) => {
      const { value, problems } = read(textSource(file, readFileSync(join(root, folder, file), 'utf8')));
      if (value === null) throw new Error(`${file}: ${problems.map((one) => one.args.text).join('; ')}`);
      return value;
    });
}

/** A material as it was taken before the evidence. */
export function beforeEvidence(material: Material): Material {
  const before = material.removal?.before;
  if (!before) throw new Error(`${material.id}: no removal energy is stated as taken before the evidence`);
  return { ...material, removal: { ...before, coupons: 0, raisedBy: 1, before } };
}

export function rowsOf(evidence: readonly Evidence[], catalogue: ReadonlyMap<string, Material>): Row[] {
  return evidence.flatMap((one) => one.cuts.map((cut) => rowOf(one, cut, catalogue)));
}

/** The same rows as a trial has them; what they are doubted by beside energy and power is taken as unchanged. */
export function changedRows(rows: readonly Row[], change: RowChange): Row[] {
  return rows.map((row) => {
    const input = change.input?.(row.input, row.cut) ?? row.input;
    return { ...row, input, logRatio: logRatioOf(input, row.material, change) };
  });
}

/** ln of the removal energy over that before the evidence, at which a row is marched. */
const LOG_ENERGIES = Array.from({ length: 12 }, (_, i) => -2.4 + 0.4 * i);

function rowOf(evidence: Evidence, cut: PublishedCut, catalogue: ReadonlyMap<string, Material>): Row {
  const material = catalogue.get(cut.material);
  if (material === undefined) throw new Error(`${cut.id}: no material ${cut.material}`);
  const materialClass = classOf(material);
  if (materialClass === null) throw new Error(`${cut.id}: ${cut.material} is of no class that is fitted`);
  const { value: input, problem } = inputOfPublished(evidence, cut, beforeEvidence(material));
  if (input === null) throw new Error(problem);
  return {
    id: cut.id,
    evidence,
    cut,
    material,
    materialClass,
    input,
    logRatio: logRatioOf(input, material),
    otherSd: sdBesideEnergyAndPower(input),
    setting: 'fraction' in cut.power ? cut.power.fraction : null,
  };
}

function logRatioOf(input: CutInput, material: Material, { powerFactor = needed }: RowChange = {}): SmoothCurve {
  const logRatios = LOG_ENERGIES.map((log) => {
    const stock = { ...input.stock, removalJPerMm3: input.stock.removalJPerMm3 * Math.exp(log) };
    return -Math.log(powerFactor({ ...input, stock }, material));
  });
  return curveThrough(LOG_ENERGIES, logRatios);
}

function needed({ beam, stock, passes, thicknessMm }: CutInput): number {
  return powerFactorFor(beam, stock, passes, thicknessMm);
}

/** The same recipe with every power multiplied by e to this. */
export function withPower(input: CutInput, logFactor: number): CutInput {
  const factor = Math.exp(logFactor);
  return { ...input, passes: input.passes.map((pass) => ({ ...pass, powerW: pass.powerW * factor })) };
}

/** Half of the distance, in ln of the power, between the settings that part with 16 % and with 84 %, energy and power being certain. */
function sdBesideEnergyAndPower(input: CutInput): number {
  const certain = { ...input, doubt: { ...input.doubt, removal: 0, power: 0 } };
  const powerFor = (probability: number) => {
    let [low, high] = [-5, 5];
    for (let i = 0; i < 16; i++) {
      const middle = (low + high) / 2;
      if (throughProbability(withPower(certain, middle)) < probability) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  };
  return (powerFor(0.8413) - powerFor(0.1587)) / 2;
}
