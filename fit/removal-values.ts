import type { Material } from '../src/job/model.ts';
import { ROW_SD, SHEET_SD, SHOP_REST_SD } from './assumptions.ts';
import { classOf } from './classes.ts';
import { energyOf, type Fit } from './optimise.ts';

/** A removal energy as a material file holds it. */
export interface RemovalValue {
  jPerMm3: number;
  /** 1σ of its logarithm, of which the other fields are the parts. */
  spread: number;
  /** What the rows leave open of the material's own energy. */
  ownSd: number;
  /** One source's sheets against another's. */
  sheetSd: number;
}

/**
 * What a fit says of a material in a shop that nobody has seen: the material's energy, sheets that differ from source to source,
 * what one shop's optics and air differ from another's, and one cut from the next. What a rated power is in doubt by is not in it.
 */
export function removalValue(found: Fit, material: Material): RemovalValue {
  const before = material.removal!.before!;
  const { mean, sd } = energyOf(found, material);
  const sheetSd = found.sheetSd[classOf(material)!] ?? SHEET_SD;
  return {
    jPerMm3: Number((before.jPerMm3 * Math.exp(mean)).toPrecision(3)),
    spread: Math.round(100 * Math.hypot(sd, sheetSd, SHOP_REST_SD, ROW_SD.A)) / 100,
    ownSd: sd,
    sheetSd,
  };
}

/** The material as its file would say it. */
export function withValue(material: Material, value: { jPerMm3: number; spread: number }): Material {
  return { ...material, removal: { ...material.removal!, jPerMm3: value.jPerMm3, spread: value.spread, coupons: 0 } };
}
