import { FAULTS, THICKNESS_TOLERANCE, UPSIDE_DOWN_LOWER_MM } from '../../src/physics/diagnosis/fault-table.ts';
import type { FaultKind, Observation } from '../../src/physics/diagnosis/observation.ts';
import type { FailedCut } from '../../src/physics/diagnosis/ways.ts';
import type { CutInput } from '../../src/physics/doubt/predict.ts';
import { marchedDepthMm } from '../../src/physics/march/march.ts';
import { ACRYLIC, co2Beam, DOUBT, PINE } from './sample-cuts.ts';

export const KINDS = Object.keys(FAULTS) as FaultKind[];

/** A cut under a 2 in lens of a machine that has a 1.5 in and a 4 in one too, in a sheet that two others look like. */
export function failedCutOf(cut: CutInput, change: Partial<FailedCut> = {}): FailedCut {
  const right = co2Beam(2);
  const addedMm = right.blurMm * 2.2;
  return {
    cut,
    source: 'co2',
    glue: 'usual',
    // A plano-convex lens of ZnSe blurs 3.2 times as much upside down (docs/model.md).
    upsideDown: { beam: { ...right, spotMm: right.spotMm + addedMm }, shape: 'plano-convex' },
    otherLenses: [
      { id: '1.5in', beam: co2Beam(1.5), longerMm: -12.7 },
      { id: '4in', beam: co2Beam(4), longerMm: 50.8 },
    ],
    otherMaterials: [
      {
        id: 'denser',
        stock: { ...cut.stock, removalJPerMm3: cut.stock.removalJPerMm3 * 1.8 },
        kerfThresholdJPerMm2: null,
      },
      {
        id: 'lighter',
        stock: { ...cut.stock, removalJPerMm3: cut.stock.removalJPerMm3 * 0.7 },
        kerfThresholdJPerMm2: null,
      },
    ],
    ...change,
  };
}

/** A cut in pine or acrylic whose planned depth is so many times the thickness. */
export function plannedCut(wood: boolean, powerW: number, speedMmPerS: number, times: number, passes = 1): CutInput {
  const stock = wood ? PINE : ACRYLIC;
  const beam = co2Beam(2);
  const all = Array.from({ length: passes }, () => ({ powerW, speedMmPerS, focusMm: 0 }));
  const thicknessMm = marchedDepthMm(beam, stock, all) / times;
  return { beam, stock, doubt: DOUBT, passes: all, thicknessMm, bowMm: 0, kerfThresholdJPerMm2: 0.2 };
}

/** Mildest and worst size of a fault on this sheet; null for one without a size. */
export function rangeOf(fault: FaultKind, thicknessMm: number): { mild: number; worst: number } | null {
  if (fault === 'lens-upside-down') return UPSIDE_DOWN_LOWER_MM['plano-convex'];
  if (fault !== 'sheet-thicker') return FAULTS[fault].size;
  const worst = THICKNESS_TOLERANCE.share * thicknessMm + THICKNESS_TOLERANCE.mm;
  return { mild: worst / 20, worst };
}

/** Which of several ways: the waist too high or too low, a lens or material by its id, the lens focused anew after it. */
export interface Chosen {
  choice: string | null;
  refocused: boolean | null;
}

/** The ways in which a fault can be had. */
export function picksOf(fault: FaultKind, { otherLenses, otherMaterials }: FailedCut): Chosen[] {
  const of = (choice: string | null, refocused: boolean | null = null): Chosen => ({ choice, refocused });
  if (['focus-off', 'sheet-bowed', 'bed-out-of-level'].includes(fault)) return [of('high'), of('low')];
  if (fault === 'lens-upside-down') return [of(null, false), of(null, true)];
  if (fault === 'lens-wrong') return otherLenses.flatMap(({ id }) => [of(id, true), of(id, false)]);
  if (fault === 'material-wrong') return otherMaterials.map(({ id }) => of(id));
  return [of(null)];
}

/** The cut as it really was with one thing wrong. Written apart from src/physics/diagnosis/ways.ts, which it is to check. */
export function faulty(fault: FaultKind, failed: FailedCut, size: number, { choice, refocused }: Chosen): CutInput {
  const { cut } = failed;
  const powered = (factor: number) => cut.passes.map((pass) => ({ ...pass, powerW: pass.powerW * factor }));
  const focused = (shiftMm: number) => cut.passes.map((pass) => ({ ...pass, focusMm: pass.focusMm + shiftMm }));
  switch (fault) {
    case 'settings-short':
      return cut;
    case 'panel-changed':
    case 'lens-dirty':
    case 'lens-cracked':
    case 'source-weak':
    case 'mirrors-drifting':
      return { ...cut, passes: powered(size) };
    case 'air-low':
    case 'glue':
    case 'sheet-denser':
      return { ...cut, stock: { ...cut.stock, removalJPerMm3: cut.stock.removalJPerMm3 * size } };
    case 'focus-off':
    case 'sheet-bowed':
    case 'bed-out-of-level':
      return { ...cut, passes: focused(choice === 'high' ? size : -size) };
    case 'lens-upside-down':
      return { ...cut, beam: failed.upsideDown!.beam, passes: focused(refocused ? 0 : -size) };
    case 'lens-wrong': {
      const { beam, longerMm } = failed.otherLenses.find(({ id }) => id === choice)!;
      return { ...cut, beam, passes: focused(refocused ? 0 : -longerMm) };
    }
    case 'sheet-thicker':
      return { ...cut, thicknessMm: cut.thicknessMm + size };
    case 'material-wrong': {
      const { stock, kerfThresholdJPerMm2 } = failed.otherMaterials.find(({ id }) => id === choice)!;
      return { ...cut, stock, kerfThresholdJPerMm2 };
    }
  }
}

/** How a fault shows most often: where, since when, with what edge. */
export function usualSigns(fault: FaultKind): Pick<Observation, 'where' | 'since' | 'edge'> {
  const most = <T extends string>(shares: Record<T, number>): T =>
    (Object.keys(shares) as T[]).reduce((best, word) => (shares[word] > shares[best] ? word : best));
  const { where, since, edge } = FAULTS[fault];
  return { where: most(where), since: most(since), edge: most(edge) };
}
