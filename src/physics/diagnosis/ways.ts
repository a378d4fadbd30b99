import type { Beam } from '../beam/focused-beam.ts';
import type { CutInput } from '../doubt/predict.ts';
import type { Stock } from '../march/stock.ts';
import { FAULTS, THICKNESS_TOLERANCE, UPSIDE_DOWN_LOWER_MM } from './fault-table.ts';
import type { FaultKind, Range } from './observation.ts';

/** The cut that did not go through, and what may have been in its place. */
export interface FailedCut {
  /** As planned, with the doubts it was predicted with. */
  cut: CutInput;
  /** Only a CO₂ beam comes by way of mirrors that someone turns, through a lens that someone takes out. */
  source: 'co2' | 'diode' | 'fibre';
  /** Whether such a material has glue or knots inside that nobody sees, `hidden` where it is known for them. */
  glue: 'none' | 'usual' | 'hidden';
  /** The lens turned over; null where that is not known or makes no worse a spot. */
  upsideDown: { beam: Beam; shape: keyof typeof UPSIDE_DOWN_LOWER_MM } | null;
  /** The machine's other lenses, each with its focal length less that of the right one. */
  otherLenses: readonly { id: string; beam: Beam; longerMm: number }[];
  /** Materials whose sheets look like this one's. */
  otherMaterials: readonly { id: string; stock: Stock; kerfThresholdJPerMm2: number | null }[];
}

/** One way in which a fault changes the cut. */
export interface Way {
  /** Null for a way that has no size. */
  range: Range | null;
  /** Id of the lens or material that it would be, or whether the waist lies too `high` or too `low`; null where there is no choice. */
  choice: string | null;
  /** Whether the focus was set anew after it happened; null where that is no question. */
  refocused: boolean | null;
  /** The cut as it would be at a value of the range; the value does not matter where there is none. */
  cutAt(value: number): CutInput;
}

/** The ways in which a fault may show on this cut; none where it cannot be. */
export function waysOf(kind: FaultKind, failed: FailedCut): Way[] {
  const { cut } = failed;
  const { size } = FAULTS[kind];
  switch (kind) {
    case 'settings-short':
      return [way(() => cut)];
    case 'mirrors-drifting':
      return failed.source === 'co2' ? [sized(size, (factor) => withPower(cut, factor))] : [];
    case 'panel-changed':
    case 'lens-dirty':
    case 'lens-cracked':
    case 'source-weak':
      return [sized(size, (factor) => withPower(cut, factor))];
    case 'glue':
      return failed.glue === 'none' ? [] : [sized(size, (factor) => withRemoval(cut, factor))];
    case 'air-low':
    case 'sheet-denser':
      return [sized(size, (factor) => withRemoval(cut, factor))];
    case 'focus-off':
    case 'sheet-bowed':
    case 'bed-out-of-level':
      return [
        { ...sized(size, (mm) => withFocus(cut, mm)), choice: 'high' },
        { ...sized(size, (mm) => withFocus(cut, -mm)), choice: 'low' },
      ];
    case 'sheet-thicker':
      return [sized(thickerRange(cut.thicknessMm), (mm) => ({ ...cut, thicknessMm: cut.thicknessMm + mm }))];
    case 'lens-upside-down':
      return upsideDownWays(failed);
    case 'lens-wrong':
      return failed.otherLenses.flatMap(({ id, beam, longerMm }) => [
        { ...way(() => ({ ...cut, beam })), choice: id, refocused: true },
        // A longer lens in the same place has its waist lower.
        { ...way(() => withFocus({ ...cut, beam }, -longerMm)), choice: id, refocused: false },
      ]);
    case 'material-wrong':
      return failed.otherMaterials.map(({ id, stock, kerfThresholdJPerMm2 }) => ({
        ...way(() => ({ ...cut, stock, kerfThresholdJPerMm2 })),
        choice: id,
      }));
  }
}

function way(cutAt: Way['cutAt']): Way {
  return { range: null, choice: null, refocused: null, cutAt };
}

function sized(range: Range | null, cutAt: Way['cutAt']): Way {
  return { ...way(cutAt), range };
}

function upsideDownWays({ cut, source, upsideDown }: FailedCut): Way[] {
  if (source !== 'co2' || upsideDown === null) return [];
  const turned = { ...cut, beam: upsideDown.beam };
  const range: Range = { quantity: 'waistLowerMm', ...UPSIDE_DOWN_LOWER_MM[upsideDown.shape] };
  return [
    { ...sized(range, (mm) => withFocus(turned, -mm)), refocused: false },
    { ...way(() => turned), refocused: true },
  ];
}

function thickerRange(thicknessMm: number): Range {
  const worst = THICKNESS_TOLERANCE.share * thicknessMm + THICKNESS_TOLERANCE.mm;
  return { quantity: 'thickerMm', mild: worst / 20, worst, usual: worst / 3 };
}

const withPower = (cut: CutInput, factor: number): CutInput => ({
  ...cut,
  passes: cut.passes.map((pass) => ({ ...pass, powerW: pass.powerW * factor })),
});

const withRemoval = (cut: CutInput, factor: number): CutInput => ({
  ...cut,
  stock: { ...cut.stock, removalJPerMm3: cut.stock.removalJPerMm3 * factor },
});

const withFocus = (cut: CutInput, shiftMm: number): CutInput => ({
  ...cut,
  passes: cut.passes.map((pass) => ({ ...pass, focusMm: pass.focusMm + shiftMm })),
});
