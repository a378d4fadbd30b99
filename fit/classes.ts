import type { Material } from '../src/job/model.ts';

/** Materials whose levels are fitted together. */
export type MaterialClass =
  | 'solid wood'
  | 'plywood'
  | 'fibre board'
  | 'paper and card'
  | 'acrylic'
  | 'other plastics'
  | 'foam'
  | 'textile and leather';

const BY_FAMILY: Partial<Record<Material['family'], MaterialClass>> = {
  wood: 'solid wood',
  plywood: 'plywood',
  board: 'fibre board',
  paper: 'paper and card',
  acrylic: 'acrylic',
  plastic: 'other plastics',
  rubber: 'other plastics',
  foam: 'foam',
  textile: 'textile and leather',
  leather: 'textile and leather',
};

const CHARRING_FAMILIES: readonly Material['family'][] = ['wood', 'plywood', 'board', 'paper', 'leather'];
const CHARRING = ['cotton', 'denim', 'wool-felt', 'acrylic-felt', 'neoprene', 'silicone', 'stamp-rubber'];

/** Null for what no CO₂ source cuts: its energy was never held against published cuts. */
export function classOf(material: Material): MaterialClass | null {
  return material.removal?.before && material.sources.co2 === 'cuts' ? (BY_FAMILY[material.family] ?? null) : null;
}

/** Materials that leave char, whose energies were all taken from pine's: they share one unknown level. */
export function chars(material: Material): boolean {
  return CHARRING_FAMILIES.includes(material.family) || CHARRING.includes(material.id);
}
