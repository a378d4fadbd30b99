import { assumptionText, classDefaults, lensIdOf } from '../../../src/job/machine/class-defaults.ts';
import type { SourceKind } from '../../../src/job/model.ts';

/** Four facts of a machine. */
export interface FourFacts {
  kind: SourceKind;
  ratedW: number;
  focalMm: number;
}

const TRAVEL = 'travel: { x: 500 mm, y: 300 mm }\n';
const POWER = 'power: { word: S, full: 1000 }';

/** A profile of what people know and the power scale, `source` and `lens` with more keys. */
export function fourFacts({ kind, ratedW, focalMm }: FourFacts, more: { source?: string; lens?: string } = {}): string {
  const source = `source: { kind: ${kind}, rated: ${ratedW} W${more.source ? `, ${more.source}` : ''} }\n`;
  const lens = `lenses: [{ focal: ${focalMm} mm${more.lens ? `, ${more.lens}` : ''} }]\n`;
  return `kerflint: 1\nid: garden\n${source}${lens}${TRAVEL}controller: { ${POWER} }\n`;
}

/** The same with everything stated at the defaults of its class but what is left out, and the power measured as rated. */
export function allStated(facts: FourFacts, without: readonly string[] = []): string {
  const { kind, ratedW, focalMm } = facts;
  const id = lensIdOf(focalMm);
  const defaults = classDefaults({ kind, ratedW, lenses: [{ id, focalMm }] }).filter(
    ({ key }) => !without.includes(key),
  );
  const section = (name: string) =>
    defaults
      .filter(({ key }) => key.startsWith(`${name}.`))
      .map((one) => `${one.key.slice(name.length + 1)}: ${assumptionText(one)}`)
      .join(', ');
  // A diode's M² counts for nothing under a spot that is stated.
  const m2 = kind === 'diode' ? ', m2: 1' : '';
  const own = (text: string) => (text === '' ? '' : `, ${text}`);
  const measured = without.includes('source.measured') ? '' : `, measured: ${ratedW} W, measured-on: 2026-09-01`;
  return [
    'kerflint: 1\nid: garden\n',
    `source: { kind: ${kind}, rated: ${ratedW} W${measured}${own(section('source'))} }\n`,
    `beam: { ${section('beam')}${m2} }\n`.replace('{ , ', '{ '),
    `lenses: [{ id: ${id}, focal: ${focalMm} mm${own(section(`lenses.${id}`))} }]\n`,
    TRAVEL,
    `motion: { ${section('motion')} }\n`,
    `controller: { ${POWER}${own(section('controller'))} }\n`,
  ].join('');
}
