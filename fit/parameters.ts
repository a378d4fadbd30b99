import type { Material } from '../src/job/model.ts';
import {
  ACRYLIC_SD,
  CHAR_LEVEL_SD,
  CLASS_SD,
  DENSITY_SD,
  GUESSED_RATING_SD,
  LIMIT_SD,
  REFERENCE_DENSITY,
  SHOP_SD,
  SPOT_SCORE,
} from './assumptions.ts';
import { chars, classOf, type MaterialClass } from './classes.ts';
import type { Row } from './rows.ts';

/** One unknown with what is believed of it beforehand: a normal distribution. */
export interface Parameter {
  name: string;
  mean: number;
  sd: number;
}

/** The level that all materials share that char. */
export const CHAR_LEVEL: Parameter = { name: 'level of what chars', mean: 0, sd: CHAR_LEVEL_SD };
export const DENSITY_EXPONENT: Parameter = { name: 'exponent of the density', mean: 0, sd: DENSITY_SD };
/** For a trial: how far the watts bend with the setting. */
export const settingExponent = (sd: number): Parameter => ({ name: 'exponent of the setting', mean: 0, sd });

/** An unknown and what it is multiplied by. */
export interface Term {
  parameter: Parameter;
  coefficient: number;
}

const term = (name: string, sd: number, coefficient = 1, mean = 0): Term => ({
  parameter: { name, mean, sd },
  coefficient,
});

/** What moves the ln of a material's removal energy from where it was before the evidence. */
export function energyTerms(material: Material): Term[] {
  const materialClass = classOf(material);
  const before = material.removal?.before;
  if (materialClass === null || !before) throw new Error(`${material.id} is not fitted`);
  const own = term(`material ${material.id}`, before.spread);
  if (materialClass === 'acrylic') return [term('class acrylic', ACRYLIC_SD), own];
  // What was measured of polymers that do not char is an energy per gram: they have neither.
  if (!chars(material)) return [term(`class ${materialClass}, melts`, CLASS_SD), own];
  return [
    { parameter: CHAR_LEVEL, coefficient: 1 },
    { parameter: DENSITY_EXPONENT, coefficient: Math.log(material.densityGPerCm3 / REFERENCE_DENSITY) },
    term(`class ${materialClass}, chars`, CLASS_SD),
    own,
  ];
}

/** Name of the offset of one source's sheets of one material. */
export const sheetName = (row: Row) => `sheets of ${row.material.id} at ${row.evidence.id}`;

/** What is believed of one source's offset: less where it measured its power, more where even its rating is a guess. */
function sourceSd({ cut, setting }: Row): number {
  if (setting === null) return LIMIT_SD;
  return cut.inferred.includes('rated power') ? GUESSED_RATING_SD : SHOP_SD;
}

/** What moves the ln of power delivered over power needed at one source. `settingSd` lets watts bend with the setting, for a trial. */
export function ratioTerms(row: Row, sheetSd: Readonly<Record<MaterialClass, number>>, settingSd: number): Term[] {
  const terms = [term(`source ${row.evidence.id}`, sourceSd(row)), term(sheetName(row), sheetSd[row.materialClass])];
  if (settingSd > 0 && row.setting !== null && row.setting < 1) {
    terms.push({ parameter: settingExponent(settingSd), coefficient: Math.log(row.setting) });
  }
  return terms;
}

/** ln of a spot, in mm, that a source leaves open between two bounds. */
export function spotTerm(row: Row, between: { from: number; to: number }): Term {
  const mean = Math.log(between.from * between.to) / 2;
  return term(`spot of ${row.evidence.id}`, Math.log(between.to / between.from) / 2 / SPOT_SCORE, 1, mean);
}

/** Normal score of the divergence share at a source whose spot is open: the two cannot be told apart by one thickness. */
export const shareTerm = (row: Row): Term => term(`divergence at ${row.evidence.id}`, 1);
