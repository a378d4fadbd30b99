import { ERROR_BELOW_BY_CATALOGUE } from './error-below-by-catalogue.ts';

/** What a limit hangs on: whether coupons of this machine, lens and material met the boundary from both sides (`bracketsBoundary`). */
export interface Proven {
  readonly bracketed: boolean;
}

/** Probability of parting that a recipe is held to; a shop's own coupons hold it to more. Definitions of this project. */
const LIMIT_CATALOGUE = 0.9;
const LIMIT_COUPONS = 0.95;
/** Probability below which a cut is an error where the shop's own coupons say so. A definition of this project. */
export const ERROR_BELOW_BY_COUPONS = 0.5;

/** The limit a through cut is judged by. */
export function limitOf({ bracketed }: Proven): number {
  return bracketed ? LIMIT_COUPONS : LIMIT_CATALOGUE;
}

/**
 * The probability of parting below which a through cut is an error, by what it is predicted from: the only place that says so. An error
 * that stops a job needs more than a catalogue's median.
 */
export function errorLimitOf({ bracketed }: Proven): number {
  return bracketed ? ERROR_BELOW_BY_COUPONS : ERROR_BELOW_BY_CATALOGUE;
}
