import type { Material } from '../../job/model.ts';

/** Probability of parting that a recipe is held to; a shop's own coupons hold it to more. Definitions of this project. */
const LIMIT_CATALOGUE = 0.9;
const LIMIT_COUPONS = 0.95;
/** Probability below which a cut is said to fall short: an error. A definition of this project. */
const ERROR_BELOW = 0.5;

/** The limit a through cut is judged by. */
export function limitOf(material: Material): number {
  return (material.removal?.coupons ?? 0) > 0 ? LIMIT_COUPONS : LIMIT_CATALOGUE;
}

/** The probability of parting below which a through cut is an error, whatever it is predicted from: the only place that says so. */
export function errorLimitOf(_material: Material): number {
  return ERROR_BELOW;
}
