import type { Material } from '../../job/model.ts';

/** Thicknesses in which sheet is commonly sold, mm (common practice, no source). */
const SOLD_MM = [0.1, 0.2, 0.3, 0.5, 0.8, 1, 1.5, 2, 3, 4, 5, 6, 8, 10, 12, 15, 18, 20, 25, 30, 40, 50, 75, 100];

/** Thicknesses in which a material can be bought, rising, mm: those that its entry names, else the common ones in its range. */
export function soldMm({ stockMm, thicknessMm }: Material): number[] {
  if (stockMm.length > 0) return [...stockMm];
  const { min, max } = thicknessMm;
  const common = SOLD_MM.filter((mm) => mm >= min - 1e-9 && mm <= max + 1e-9);
  return common.length > 0 ? common : [max];
}
