import { inputOfPublished } from '../src/facts/evidence/published-cut.ts';
import type { CitedCut, CitedCutsFile } from '../src/job/evidence/cited-cuts.ts';
import { predictCut } from '../src/physics/doubt/predict.ts';
import { withValue } from './removal-values.ts';
import type { Result } from './result.ts';
import type { Row } from './rows.ts';

/** The file of published cuts that is shown beside predictions: one line a cut, with what the fitted catalogue says of it. */
export function citedCutsFile({ evidence, rows, values }: Result): string {
  const sources = Object.fromEntries(
    evidence.filter(({ cuts }) => cuts.length > 0).map(({ id, citation }) => [id, citation]),
  );
  const cuts: CitedCutsFile['cuts'] = rows.map((row) => citedCut(row, values));
  const lines = (all: readonly string[]) => all.map((line) => `    ${line}`).join(',\n');
  return [
    '{',
    '  "sources": {',
    lines(Object.entries(sources).map(([id, citation]) => `${JSON.stringify(id)}: ${JSON.stringify(citation)}`)),
    '  },',
    '  "cuts": [',
    lines(cuts.map((cut) => JSON.stringify(cut))),
    '  ]',
    '}',
    '',
  ].join('\n');
}

function citedCut({ evidence, cut, material }: Row, values: Result['values']): Omit<CitedCut, 'citation'> {
  const { machine } = evidence;
  const { value: input, problem } = inputOfPublished(evidence, cut, withValue(material, values.get(material.id)!));
  if (input === null) throw new Error(problem);
  const { prediction, problem: why } = predictCut(input);
  if (prediction === null) throw new Error(`${cut.id}: ${why}`);
  return {
    id: cut.id,
    source: evidence.id,
    kind: machine!.kind,
    material: material.id,
    thicknessMm: rounded(cut.thicknessMm, 3),
    ratedW: cut.ratedW,
    setting: 'fraction' in cut.power ? rounded(cut.power.fraction, 4) : null,
    powerW: rounded(input.passes[0]!.powerW, 2),
    speedMmPerS: rounded(cut.speedMmPerS, 3),
    passes: cut.passes,
    focusMm: cut.focusMm,
    focalMm: machine!.focalMm,
    outcome: cut.outcome,
    depthMm: cut.depthMm,
    use: cut.use,
    quality: cut.quality,
    worn: cut.worn,
    inferred: cut.inferred,
    note: cut.note,
    predictedDepthMm: rounded(prediction.depthMm, 2),
    throughProbability: rounded(prediction.throughProbability, 3),
  };
}

function rounded(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}
