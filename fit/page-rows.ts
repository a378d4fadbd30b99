import { signed, table, two } from './markdown.ts';
import type { Result } from './result.ts';
import type { Row } from './rows.ts';

/** Every row of every source, what the catalogue says of it, and what a fit says that has not seen its source. */
export function rowsSection(result: Result): string {
  return [
    '## Every row',
    '',
    'R: power delivered over the power with which the cut would just part, by the catalogue as it is. P: probability that it parts; P unseen: the same,',
    'fitted without this source. Miss: ln(R/1.3) of a daily setting, ln R of another row that went the other way than expected, else 0.',
    'Speeds in brackets are what the head reaches on parts of the usual size. Quality in brackets: not scored.',
    'The citation of each source stands in [sources.md](sources.md).',
    '',
    ...result.evidence.flatMap((source) => [
      `**${source.id}**${source.note === null ? '' : `: ${source.note}`}`,
      '',
      source.cuts.length === 0 ? energies(source) : cuts(result, source.id),
      '',
    ]),
  ].join('\n');
}

function energies({ energies: all }: Result['evidence'][number]): string {
  return table(
    ['row', 'matter', 'kJ/g', 'materials'],
    all.map(({ id, matter, kJPerG, materials }) => [
      id,
      matter,
      kJPerG.from === kJPerG.to ? String(kJPerG.from) : `${kJPerG.from}–${kJPerG.to}`,
      materials.length === 0 ? '–' : materials.join(', '),
    ]),
  );
}

function cuts(result: Result, source: string): string {
  const shipped = new Map(result.shipped.map((one) => [one.row.id, one]));
  const unseen = new Map(result.leftOut.map((one) => [one.row.id, one]));
  const rows = result.rows.filter((row) => row.evidence.id === source);
  return table(
    ['row', 'material', 'mm', 'W', 'mm/s', 'passes', 'outcome', 'use', 'quality', 'R', 'P', 'miss', 'P unseen'],
    rows.map((row) => {
      const one = shipped.get(row.id);
      const other = unseen.get(row.id);
      return [
        row.id,
        row.material.id,
        String(row.cut.thicknessMm),
        String(Number(row.input.passes[0]!.powerW.toFixed(1))),
        speeds(row),
        String(row.cut.passes),
        row.cut.outcome,
        row.cut.use,
        other?.counts ? row.cut.quality : `(${row.cut.quality}${row.cut.worn ? ', worn' : ''})`,
        one ? two(Math.exp(one.logRatio)) : '–',
        one ? two(one.throughProbability) : '–',
        one ? signed(missOf(row, one.logRatio)) : '–',
        other ? two(other.throughProbability) : '–',
      ];
    }),
  );
}

function speeds(row: Row): string {
  const set = Number(row.cut.speedMmPerS.toFixed(2));
  const reached = Number(row.input.passes[0]!.speedMmPerS.toFixed(0));
  return reached < set ? `${set} (${reached})` : String(set);
}

/** How far the catalogue is from what a row says, in ln of the power. */
function missOf(row: Row, logRatio: number): number {
  if (row.cut.use === 'daily') return logRatio - Math.log(1.3);
  return (row.cut.outcome === 'cut') === logRatio >= 0 ? 0 : logRatio;
}
