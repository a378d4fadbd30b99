/**
 * Width of the kerf where a line scan's Gaussian fluence exceeds the material's threshold: w = d √(½ ln(F₀/F_th)),
 * F₀ = √(8/π) E_L / d. 0 where the fluence stays below the threshold. This is the width that is seen and reported, not
 * the width that the march removes.
 * @param diameterMm 1/e² diameter of the beam where the width is asked for.
 * @param lineEnergyJPerMm power over speed.
 * @param thresholdJPerMm2 a value of the material.
 */
export function thresholdKerfMm(diameterMm: number, lineEnergyJPerMm: number, thresholdJPerMm2: number): number {
  if (!(diameterMm > 0) || !(lineEnergyJPerMm > 0) || !(thresholdJPerMm2 > 0)) return 0;
  const fluence = (Math.sqrt(8 / Math.PI) * lineEnergyJPerMm) / diameterMm;
  return fluence > thresholdJPerMm2 ? diameterMm * Math.sqrt(0.5 * Math.log(fluence / thresholdJPerMm2)) : 0;
}

/** Lean of one wall of the kerf from the vertical, degrees; positive when the kerf is wider at the top. */
export function taperDeg(topMm: number, bottomMm: number, heightMm: number): number {
  return heightMm > 0 ? (Math.atan((topMm - bottomMm) / 2 / heightMm) * 180) / Math.PI : 0;
}
