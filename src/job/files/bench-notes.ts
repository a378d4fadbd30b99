import { START_OF_FILE } from '../../source/place.ts';
import { formatCount } from '../../units/format.ts';
import { quoted } from '../../units/quoted.ts';
import type { Bench, Coupon, Machine, Material } from '../model.ts';
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

/** Coupons and a focus in a material's own file count for one machine or none: which, and where they belong. None where it has neither. */
export function belongsToBenchNotes({ id, file, coupons, statesFocus, placeOf }: Material): FileNote[] {
  const notes: FileNote[] = [];
  if (coupons.length > 0) {
    const listed = `${file} lists ${formatCount(coupons.length, 'coupon')}, and each counts only for the machine that it names (${byMachine(coupons)})`;
    const move = `move them into <machine>.bench.yaml beside the machine's profile in the shop, each with its lens and "material: ${id}"`;
    const text = `${listed}: ${move}; kerflint calibrate --write takes those of a machine and a lens along`;
    notes.push({ place: placeOf(['coupons']), text });
  }
  if (statesFocus) {
    const text = `${file} states a focus offset, which names no machine and no lens and counts for none: enter it under "ramps" of <machine>.bench.yaml with the lens that it was found under`;
    notes.push({ place: placeOf(['focus']), text });
  }
  return notes;
}

/** "shed-60w: 9; none: 3". */
function byMachine(coupons: readonly Coupon[]): string {
  const counts = new Map<string | null, number>();
  for (const { machine } of coupons) counts.set(machine, (counts.get(machine) ?? 0) + 1);
  return [...counts].map(([machine, count]) => `${machine ?? 'none'}: ${count}`).join('; ');
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
