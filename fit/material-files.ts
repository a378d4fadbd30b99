import type { Material } from '../src/job/model.ts';
import { classOf, type MaterialClass } from './classes.ts';
import type { RemovalValue } from './removal-values.ts';
import type { Row } from './rows.ts';

/** A fitted value as three significant digits, with no more zeros than it needs. */
const digits = (value: number) => String(Number(value.toPrecision(3)));

/** What a material's value rests on, in the words of its file. */
export function provenance(material: Material, rows: readonly Row[]): string {
  const own = rows.filter((row) => row.material.id === material.id);
  if (own.length > 0) return `fitted: ${countOf(own)} (docs/evidence.md)`;
  const materialClass = classOf(material) as MaterialClass;
  const ofClass = rows.filter((row) => row.materialClass === materialClass);
  return `fitted: no row of its own; the level of its class, ${materialClass}, from ${countOf(ofClass)} (docs/evidence.md)`;
}

export function countOf(rows: readonly Row[]): string {
  const sources = new Set(rows.map((row) => row.evidence.id)).size;
  return `${rows.length} ${rows.length === 1 ? 'row' : 'rows'} of ${sources} ${sources === 1 ? 'source' : 'sources'}`;
}

const BLOCK = /^removal-energy:\n {2}value: .*\n {2}spread: .*\n {2}source: .*\n/m;

/**
 * A material's file with its fitted removal energy, and with the kerf's threshold where that is computed from it. All else, comments
 * too, stays to the byte.
 */
export function withRemoval(text: string, material: Material, value: RemovalValue, source: string): string {
  if (!BLOCK.test(text)) throw new Error(`${material.file}: no removal energy to write over`);
  const block = [
    'removal-energy:',
    `  value: ${digits(value.jPerMm3)} J/mm3`,
    `  spread: ${Math.round(value.spread * 100)} %`,
    `  source: "${source}"`,
    '',
  ].join('\n');
  return withThreshold(text.replace(BLOCK, block), value.jPerMm3, material.densityGPerCm3);
}

/** Energy per gram times the mass, or per volume times the depth, of one 1/e depth: the file says which. */
const BY_GRAM =
  /^(kerf-threshold: \{ value: ).*?( J\/mm2, source: "derived: )[\d.]+( kJ\/g × the mass .*?)([\d.]+)( mm × )([\d.]+)( g\/cm³" \})$/m;
const BY_VOLUME = /^(kerf-threshold: \{ value: ).*?( J\/mm2, source: "derived: )[\d.]+( J\/mm³ × )([\d.]+)( mm, .*)$/m;

function withThreshold(text: string, jPerMm3: number, densityGPerCm3: number): string {
  const kJPerG = jPerMm3 / densityGPerCm3;
  return text
    .replace(BY_GRAM, (_, head, unit, mass, depthMm, times, density, tail) => {
      const value = digits(kJPerG * Number(depthMm) * Number(density));
      return `${head}${value}${unit}${digits(kJPerG)}${mass}${depthMm}${times}${density}${tail}`;
    })
    .replace(BY_VOLUME, (_, head, unit, times, depthMm, tail) => {
      return `${head}${digits(jPerMm3 * Number(depthMm))}${unit}${digits(jPerMm3)}${times}${depthMm}${tail}`;
    });
}
