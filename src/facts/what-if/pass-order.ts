import { Stretch } from '../../geometry/overlap/stretches.ts';
import type { Rerun, StrokeRun } from '../../model/motion/rerun.ts';
import { STROKE_STARTS_PATH, type Strokes } from '../../model/strokes.ts';
import type { StretchList } from '../cuts/passes.ts';

/** More runs of one line than this are not tried. */
export const MOST_TIMES = 255;

/** Of each stroke, which pass it is over what it runs along: 0 for the first. */
export function passOfStrokes(strokes: Strokes, stretches: StretchList): Uint8Array {
  const pass = new Uint8Array(strokes.count).fill(MOST_TIMES);
  stretches.each(({ owners, listed }) => {
    for (let k = 0; k < listed; k++) if (k < pass[owners[k]!]!) pass[owners[k]!] = k;
  });
  return pass;
}

/**
 * The runs that give strokes other numbers of passes: each path over the first pass is run so often in a row, and later ones are left out.
 * @param wanted passes of each stroke; 0 where they stay
 */
export function runsFor(strokes: Strokes, passOf: Uint8Array, wanted: Uint8Array): StrokeRun[] {
  const runs: StrokeRun[] = [];
  const timesOf = (i: number) => (passOf[i] === 0 ? wanted[i]! : 0);
  for (let first = 0; first < strokes.count; ) {
    let until = first + 1;
    if (wanted[first] === 0) {
      first = until;
      continue;
    }
    const times = timesOf(first);
    while (until < strokes.count && wanted[until] !== 0 && timesOf(until) === times && !starts(strokes, until)) until++;
    if (times !== 1) runs.push({ first, until, times });
    first = until;
  }
  return runs;
}

function starts({ flags }: Strokes, stroke: number): boolean {
  return (flags[stroke]! & STROKE_STARTS_PATH) !== 0;
}

/** Stretches as they are after strokes were run again or left out: nothing is compared anew. */
export class RerunStretches implements StretchList {
  readonly endedEarly: string | null;
  readonly #before: StretchList;
  readonly #rerun: Pick<Rerun, 'firstOf' | 'times' | 'apart'>;

  constructor(before: StretchList, made: Pick<Rerun, 'firstOf' | 'times' | 'apart'>) {
    this.endedEarly = before.endedEarly;
    this.#before = before;
    this.#rerun = made;
  }

  each(visit: (stretch: Stretch) => void): void {
    const { firstOf, times, apart } = this.#rerun;
    const after = new Stretch();
    this.#before.each((before) => {
      let listed = 0;
      let passes = before.passes - before.listed;
      for (let k = 0; k < before.listed; k++) {
        const stroke = before.owners[k]!;
        for (let again = 0; again < times[stroke]!; again++) {
          if (listed < MOST_TIMES) after.owners[listed++] = firstOf[stroke]! + again * apart[stroke]!;
          passes++;
        }
      }
      if (listed === 0) return;
      // Copies of one path follow each other as a whole, those of several may be interleaved.
      after.owners.subarray(0, listed).sort();
      after.listed = listed;
      after.passes = passes;
      after.owner = times[before.owner]! > 0 ? firstOf[before.owner]! : after.owners[0]!;
      after.x0 = before.x0;
      after.y0 = before.y0;
      after.x1 = before.x1;
      after.y1 = before.y1;
      after.lengthMm = before.lengthMm;
      visit(after);
    });
  }
}
