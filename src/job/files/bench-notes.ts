import { START_OF_FILE } from '../../source/place.ts';
import { formatCount } from '../../units/format.ts';
import { quoted } from '../../units/quoted.ts';
import type { Bench, Machine } from '../model.ts';
import { type FileNote, type FileProblem, fileProblem } from './problem.ts';

/** A bench file beside a job counts for nothing: whoever sends a job could make any cut look proved. */
export function benchBesideNote(file: string, machine: string): FileNote {
  const text = `${file} lies beside the job and is not read: what was measured on ${machine} counts from the shop's folder alone`;
  return { place: { file, ...START_OF_FILE }, text };
}

/** Rows of lenses that the machine's profile does not have; null when there are none. */
export function lostLensNote(bench: Bench, machine: Machine): FileNote | null {
  const ids = new Set(machine.lenses.map(({ id }) => id));
  const lost = [...bench.ramps, ...bench.coupons].filter(({ lens }) => !ids.has(lens));
  if (lost.length === 0) return null;
  const names = [...new Set(lost.map(({ lens }) => quoted(lens)))].join(', ');
  const text = `${bench.file} has ${formatCount(lost.length, 'row')} of a lens that the profile of ${machine.id} does not have (${names}): they do not count`;
  return { place: bench.placeOf(['machine']), text };
}

/** What came of a lookup, as far as it is asked here. */
interface Answer {
  value: unknown;
  problems: readonly unknown[];
  near: string | null;
}

/** Bench files of machines, and rows of materials, that nobody knows: they would count for nothing without a word. */
export function strayBenchProblems(
  benches: readonly Bench[],
  library: { machine: (id: string) => Answer; material: (name: string) => Answer },
): FileProblem[] {
  return benches.flatMap((bench) => {
    const machine = library.machine(bench.id);
    const stray = machine.value || machine.problems.length > 0 ? [] : [unknown(bench, ['machine'], 'machine', machine)];
    const names = new Map(bench.coupons.map(({ material }, row) => [material, row]));
    for (const [name, row] of names) {
      const material = library.material(name);
      if (!material.value && material.problems.length === 0)
        stray.push(unknown(bench, ['coupons', row, 'material'], 'material', { near: material.near, name }));
    }
    return stray;
  });
}

function unknown(
  bench: Bench,
  path: (string | number)[],
  what: 'machine' | 'material',
  { near, name = bench.id }: { near: string | null; name?: string },
): FileProblem {
  const guess = near === null ? '' : `: did you mean ${near}?`;
  const text = `there is no ${what} ${quoted(name)} in the shop or the catalogue${guess}`;
  return fileProblem('unknown-id', bench.placeOf(path), text);
}
