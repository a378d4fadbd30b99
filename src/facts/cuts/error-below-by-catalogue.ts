/**
 * Probability of parting below which a cut is an error when nothing but the catalogue speaks of its material: the highest at which at
 * most one in twenty of the daily settings of shops that the fit has not seen falls below. Written by `npm run fit` (docs/evidence.md).
 */
export const ERROR_BELOW_BY_CATALOGUE = 0.14;
