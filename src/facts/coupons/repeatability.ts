import type { Material } from '../../job/model.ts';
import type { Repeatability } from '../../physics/calibration/prior.ts';

/** A source's power wanders by ± 5 % from one day to the next, nine days in ten (memory: what makers state of sealed tubes): 1σ. */
const DAY_TO_DAY = 0.03;
/** A gauge repeats the focus to 0.2 mm, nine times in ten (common practice, no source): 1σ, mm. */
export const FOCUS_REPEAT_MM = 0.12;

/**
 * Energy from one sheet of a shop's stock to the next, and from one tongue of a sheet to the next, 1σ (common practice, no source; half of
 * what the fit finds between the sheets of two sources, and PMMA is one substance of one density).
 */
const EVEN = { sheets: 0.02, tongues: 0.03 };
const GROWN = { sheets: 0.07, tongues: 0.06 };
const BY_FAMILY: Partial<Record<Material['family'], { sheets: number; tongues: number }>> = {
  acrylic: EVEN,
  plastic: EVEN,
  metal: EVEN,
};

/** How well a shop cuts the same material in the same way twice. */
export function repeatabilityOf(material: Pick<Material, 'family'>): Repeatability {
  const { sheets, tongues } = BY_FAMILY[material.family] ?? GROWN;
  return { pieces: Math.hypot(sheets, DAY_TO_DAY), focusMm: FOCUS_REPEAT_MM, tongues };
}
