import { type Fit, type FitOptions, fitRows } from './optimise.ts';
import { type Scored, score } from './predictive.ts';
import { removalValue } from './removal-values.ts';
import type { Row } from './rows.ts';

/** A row as predicted by a fit that knows nothing of its source. */
export interface LeftOut extends Scored {
  /** Quality A or B, a machine that is not worn, and an outcome: what the scores count. */
  counts: boolean;
  /** Whether any other source has the material; else only its class speaks for it. */
  seenElsewhere: boolean;
}

/** Rows from which energies can be fitted: a diode's coupling is not known, so it tells nothing of them. */
export const canBeFitted = (row: Row) => row.evidence.machine!.kind === 'co2';

export const counts = ({ cut }: Row) => cut.quality !== 'C' && !cut.worn && cut.outcome !== 'limit';

/** Fits without each source in turn and predicts its rows as the product would for a shop it has never seen. */
export function leaveOneSourceOut(rows: readonly Row[], options: FitOptions = {}): LeftOut[] {
  const sources = [...new Set(rows.map((row) => row.evidence.id))];
  return sources.flatMap((source) => {
    const others = rows.filter((row) => row.evidence.id !== source && canBeFitted(row));
    const found: Fit = fitRows(others, options);
    return rows
      .filter((row) => row.evidence.id === source && row.cut.outcome !== 'limit')
      .map((row) => ({
        ...score(row, removalValue(found, row.material)),
        counts: counts(row),
        seenElsewhere: others.some((other) => other.material.id === row.material.id),
      }));
  });
}
