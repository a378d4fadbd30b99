import type { Source } from '../../source/source.ts';
import { nearestWord } from '../../units/nearest-word.ts';
import { CITED_CUTS_NAME, type CitedCut, readCitedCuts } from '../evidence/cited-cuts.ts';
import { readBench } from '../machine/bench.ts';
import { readMachine } from '../machine/machine.ts';
import { tightenMachine } from '../machine/tighten-machine.ts';
import { readMaterial } from '../material/material.ts';
import { idsWithHazard } from '../material/names/hint-text.ts';
import { type Meant, meantBy, vocabularyOf } from '../material/names/meant.ts';
import { hazardNote, raiseHazard, tightenMaterial } from '../material/tighten-material.ts';
import type { Bench, Machine, Material, Rank } from '../model.ts';
import { byCodeUnit } from './access.ts';
import { belongsToBenchNotes, benchBesideNote, lostLensNote, strayBenchProblems } from './bench-notes.ts';
import { nameKey } from './name-key.ts';
import { BENCH_SUFFIX, baseName, MACHINE_SUFFIX, MATERIAL_SUFFIX } from './paths.ts';
import type { FileNote, FileProblem, Loaded } from './problem.ts';
import { Registry } from './registry.ts';

const NOTHING: readonly Source[] = [];

/** The word in a sidecar for a material that nobody can name; no file may carry it. */
const UNKNOWN = 'unknown';

export interface LibraryOptions {
  /** What ships with kerflint: materials, example machines, and the published cuts. */
  catalogue: readonly Source[];
  /** What the shop states: `--shop`, or the folders of the root's `.kerflint.yaml`. */
  shop: readonly Source[];
  /** Nothing beside a job is trusted: an id that only stands there leaves the job incomplete. */
  untrusted: boolean;
}

/** What a lookup gives. */
export interface Found<T> {
  /** Null when no file has it, or the file that has it cannot be used (then `problems` says why). */
  value: T | null;
  /** False when the value may be shown but must not let the job pass: the verdict then is incomplete. */
  trusted: boolean;
  /** How files were weighed. */
  notes: FileNote[];
  /** Of the files that were opened for this lookup. Those of the catalogue and the shop are configuration, those beside a job are findings. */
  problems: (FileProblem & { rank: Rank })[];
  /** The known ids that may have been meant, as in `a, b or c`, when there is no value; null when none comes near. */
  near: string | null;
}

/** What a lookup of a material gives. */
export interface FoundMaterial extends Found<Material> {
  /** What the name may mean when there is no value: what kind it is, what hazard it is like, what is spelt alike; null when nothing is. */
  meant: Meant | null;
}

/** Machines with what was measured on them, and materials by id, with the rules of trust between catalogue, shop and job. Files are read when they are first asked for. */
export interface Library {
  /** A machine by id, or by the path of its file relative to the root. `beside` are the machine and material files of the job. */
  machine(id: string, beside?: readonly Source[], path?: string | null): Found<Machine>;
  /** A material by id, alias or name, without regard to case and accents. */
  material(name: string, beside?: readonly Source[]): FoundMaterial;
  /** Reads every shop file and gives all problems, two files with one id among them: configuration, before any job. */
  shopProblems(): FileProblem[];
  /** The file of the shop or the catalogue of this name, to show lines of; null when there is none. */
  sourceOf(file: string): Source | null;
  /** The published cuts that ship with kerflint. They are read when they are first asked for: most runs never do. */
  citedCuts(): readonly CitedCut[];
  /** Ids of materials and machines, in order, for listings: those of catalogue and shop, or of one of them. */
  ids(rank?: 'catalogue' | 'shop'): { machines: string[]; materials: string[] };
}

/** Jobs of one folder have one list of files beside them: its shelf is filled once. */
function kept<T>(make: (beside: readonly Source[]) => T): (beside: readonly Source[]) => T {
  const shelves = new WeakMap<readonly Source[], T>();
  return (beside) => {
    const shelf = shelves.get(beside) ?? make(beside);
    shelves.set(beside, shelf);
    return shelf;
  };
}

const machineShelf = (sources: readonly Source[], rank: Rank) =>
  new Registry(
    sources,
    MACHINE_SUFFIX,
    (source) => readMachine(source, rank),
    () => [],
  );
const benchShelf = (sources: readonly Source[]) => new Registry<Bench>(sources, BENCH_SUFFIX, readBench, () => []);
const materialShelf = (sources: readonly Source[], rank: Rank) =>
  new Registry(
    sources,
    MATERIAL_SUFFIX,
    (source) => readMaterial(source, rank),
    (material) => [material.name, ...material.aliases],
  );

export function createLibrary({ catalogue, shop, untrusted }: LibraryOptions): Library {
  const byFile = new Map([...catalogue, ...shop].map((source) => [source.name, source]));
  const machines = { catalogue: machineShelf(catalogue, 'catalogue'), shop: machineShelf(shop, 'shop') };
  const materials = { catalogue: materialShelf(catalogue, 'catalogue'), shop: materialShelf(shop, 'shop') };
  const benches = benchShelf(shop);
  const benchesBeside = kept(benchShelf);
  const machinesBeside = kept((beside) => machineShelf(beside, 'beside-job'));
  const materialsBeside = kept((beside) => materialShelf(beside, 'beside-job'));

  const machine: Library['machine'] = (id, beside = [], path = null) => {
    const found = new Lookup<Machine>();
    const here = machinesBeside(beside);
    const named = path === null ? id : here.nameOf(path);
    const mine = found.take(path === null ? here.byId(id) : here.byPath(path), 'beside-job');
    const shops = found.take(machines.shop.byId(named), 'shop');
    if (machines.shop.has(named)) {
      found.value = shops;
      // The shop may name its folder beside the job: one file is not two.
      if (shops && mine && mine.file !== shops.file) {
        const { machine: tightened, note } = tightenMachine(shops, mine);
        found.value = tightened;
        found.notes.push(note);
      }
    } else {
      // The catalogue's machines are examples to copy, no statement about anyone's hardware: a profile of the same id replaces them.
      found.value = here.has(named) ? mine : found.take(machines.catalogue.byId(named), 'catalogue');
      found.trusted = !untrusted;
    }
    if (found.value) takeBench(found, beside);
    const known = [...machines.shop.ids(), ...machines.catalogue.ids(), ...here.ids()];
    return found.result(id, known);
  };

  /** What was measured on a machine counts from the shop alone, and for no profile that only stands beside a job. */
  const takeBench = (found: Lookup<Machine>, beside: readonly Source[]) => {
    const machine = found.value!;
    const besides = benchesBeside(beside).fileOf(machine.id);
    if (besides !== null && !benches.holds(besides)) found.notes.push(benchBesideNote(besides, machine.id));
    const bench = machine.rank === 'beside-job' ? null : found.take(benches.byId(machine.id), 'shop');
    if (bench === null) return;
    found.value = { ...machine, bench };
    const note = lostLensNote(bench, machine);
    if (note !== null) found.notes.push(note);
  };

  const material: Library['material'] = (name, beside = NOTHING) => {
    if (nameKey(name) === UNKNOWN) return { ...new Lookup<Material>().result(name, []), meant: null };
    const found = lookUp(name, beside);
    const meant = found.value === null ? meantBy(name, vocabulary(beside)) : null;
    return { ...found.result(name, []), near: meant && idsWithHazard(meant.choices), meant };
  };

  const lookUp = (name: string, beside: readonly Source[]): Lookup<Material> => {
    const found = new Lookup<Material>();
    const here = materialsBeside(beside);
    const trustedFile = trustedMaterial(name);
    const mine = here.allNamed(name);
    if (trustedFile) {
      found.value = withoutItsCoupons(found.take(trustedFile.loaded, trustedFile.rank));
      const id = trustedFile.loaded.value?.id;
      const others = new Set([...mine, ...(id === undefined ? [] : here.allNamed(id))]);
      for (const one of found.takeAll([...others], 'beside-job')) {
        // The shop may name its folder beside the job: one file is not two.
        if (!found.value || materials.shop.holds(one.file)) continue;
        const { material: tightened, note } = tightenMaterial(found.value, one);
        found.value = tightened;
        found.notes.push(note);
      }
    } else {
      found.value = found.take(here.named(name), 'beside-job');
      found.trusted = !untrusted;
    }
    if (found.value && found.value.rank !== 'catalogue') raiseByNames(found);
    if (found.value) found.notes.push(...belongsToBenchNotes(found.value));
    return found;
  };

  /** Every material by its id, with what else is known of its hazard. */
  const vocabulary = kept((beside) => vocabularyOf(allMaterials(beside)));
  const allMaterials = (beside: readonly Source[]) =>
    [...new Set([...materials.shop.ids(), ...materials.catalogue.ids(), ...materialsBeside(beside).ids()])]
      .sort(byCodeUnit)
      .flatMap((id) => lookUp(id, beside).value ?? []);

  /** The shop's file wins, by whatever name it was asked for. */
  const trustedMaterial = (name: string): { loaded: Loaded<Material>; rank: Rank } | null => {
    const shops = materials.shop.named(name);
    if (shops) return { loaded: shops, rank: 'shop' };
    const inCatalogue = materials.catalogue.named(name);
    if (!inCatalogue) return null;
    const shopsOwn = inCatalogue.value ? materials.shop.byId(inCatalogue.value.id) : null;
    return shopsOwn ? { loaded: shopsOwn, rank: 'shop' } : { loaded: inCatalogue, rank: 'catalogue' };
  };

  /** With what the catalogue says of it, where the shop's value rests on coupons that were cut on some machines. */
  const withoutItsCoupons = (own: Material | null): Material | null => {
    if (own === null || own.rank !== 'shop' || own.removal === null || own.removal.coupons === 0) return own;
    const known = materials.catalogue.byId(own.id)?.value ?? null;
    if (!known?.removal) return own;
    const { jPerMm3, spread } = known.removal;
    return { ...own, beforeCoupons: { removal: { jPerMm3, spread }, divergence: known.divergence } };
  };

  /** Whatever else goes by one of its names in the catalogue or the shop lends it its hazard. */
  const raiseByNames = (found: Lookup<Material>) => {
    const value = found.value!;
    for (const name of [value.id, value.name, ...value.aliases]) {
      for (const shelf of [materials.shop, materials.catalogue]) {
        for (const other of shelf.allNamed(name).flatMap((loaded) => loaded.value ?? [])) {
          const raised = raiseHazard(found.value!, other);
          if (!raised) continue;
          found.notes.push(hazardNote(found.value!, other));
          found.value = raised;
        }
      }
    }
  };

  let cited: readonly CitedCut[] | null = null;
  const citedCuts = () => {
    const file = catalogue.find(({ name }) => baseName(name) === CITED_CUTS_NAME);
    cited ??= file === undefined ? [] : readCitedCuts(file);
    return cited;
  };

  return {
    machine,
    material,
    sourceOf: (file) => byFile.get(file) ?? null,
    citedCuts,
    shopProblems: () => [
      ...machines.shop.allProblems(),
      ...benches.allProblems(),
      ...materials.shop.allProblems(),
      ...strayBenchProblems(benches.all(), { machine, material }),
    ],
    ids: (rank) => {
      const of = (shelves: Record<'catalogue' | 'shop', { ids(): string[] }>) => {
        const ranks = rank === undefined ? (['shop', 'catalogue'] as const) : [rank];
        return [...new Set(ranks.flatMap((one) => shelves[one].ids()))].sort();
      };
      return { machines: of(machines), materials: of(materials) };
    },
  };
}

/** One lookup's value and what was met on the way. */
class Lookup<T> {
  value: T | null = null;
  trusted = true;
  readonly notes: FileNote[] = [];
  readonly #problems: (FileProblem & { rank: Rank })[] = [];

  take<O>(loaded: Loaded<O> | null, rank: Rank): O | null {
    return loaded === null ? null : (this.takeAll([loaded], rank)[0] ?? null);
  }

  takeAll<O>(all: readonly Loaded<O>[], rank: Rank): O[] {
    for (const { problems } of all) this.#problems.push(...problems.map((problem) => ({ ...problem, rank })));
    return all.flatMap(({ value }) => (value === null ? [] : [value]));
  }

  result(name: string, known: readonly string[]): Found<T> {
    const near = this.value === null ? nearIds(nameKey(name), known) : null;
    return { value: this.value, trusted: this.trusted, notes: this.notes, problems: this.#problems, near };
  }
}

/** More ids than this are a listing and no hint. */
const MOST_HINTS = 4;

/** The id that differs by a slip, or those that share the most words with what was written. */
function nearIds(key: string, known: readonly string[]): string | null {
  const ids = [...new Set(known)].sort(byCodeUnit);
  const slip = nearestWord(key, ids);
  if (slip !== undefined) return slip;
  const words = new Set(key.split('-').filter((word) => word.length > 2));
  const shared = (id: string) => id.split('-').filter((word) => words.has(nameKey(word))).length;
  const most = Math.max(0, ...ids.map(shared));
  if (most === 0) return null;
  const near = ids.filter((id) => shared(id) === most).slice(0, MOST_HINTS);
  return near.length === 1 ? near[0]! : `${near.slice(0, -1).join(', ')} or ${near.at(-1)}`;
}
