import { readFileSync } from 'node:fs';
import { citedCutsFile } from './cited-cuts.ts';
import { canBeFitted } from './leave-out.ts';
import { provenance, withRemoval } from './material-files.ts';
import { diodeSection, fitSection, trialsSection } from './page-fit.ts';
import { rowsSection } from './page-rows.ts';
import { scoresSection } from './page-scores.ts';
import { type Result, wholeResult } from './result.ts';

/** Path relative to the repository's root → its whole text. */
export function outputs(): Map<string, string> {
  const result = wholeResult();
  return new Map([
    ...materialFiles(result),
    ['src/facts/cuts/error-below-by-catalogue.ts', limitFile(result)],
    ['data/published-cuts.json', citedCutsFile(result)],
    ['docs/evidence.md', page(result)],
  ]);
}

function materialFiles({ catalogue, values, rows }: Result): [string, string][] {
  const fitted = rows.filter(canBeFitted);
  return [...values].map(([id, value]) => {
    const material = catalogue.get(id)!;
    const path = `data/materials/${material.file}`;
    return [path, withRemoval(readFileSync(path, 'utf8'), material, value, provenance(material, fitted))];
  });
}

function limitFile({ limit }: Result): string {
  return `/**
 * Probability of parting below which a cut is an error when nothing but the catalogue speaks of its material: the highest at which at
 * most one in twenty of the daily settings of shops that the fit has not seen falls below. Written by \`npm run fit\` (docs/evidence.md).
 */
export const ERROR_BELOW_BY_CATALOGUE = ${limit.limit};
`;
}

function page(result: Result): string {
  return [
    '# Published cuts, and what the model says of them',
    '',
    'Written by `npm run fit` from `data/evidence` and `data/materials`; nothing here is written by hand. What the model is, what was tried and why,',
    'stands in [model.md](model.md). No machine of ours cut any of this: the rows are what workshops, schools and private persons published of',
    'their own machines, and their watts are mostly a share of a rated power.',
    '',
    scoresSection(result),
    '',
    fitSection(result),
    '',
    trialsSection(result),
    '',
    diodeSection(result),
    '',
    rowsSection(result).trimEnd(),
    '',
  ].join('\n');
}
