import type { Source } from '../../source/source.ts';
import { EVIDENCE_SUFFIX, stem } from '../files/paths.ts';
import type { Loaded } from '../files/problem.ts';
import { checkId } from '../machine/machine.ts';
import type { PlaceOf, PowerSetting, SourceKind } from '../model.ts';
import { load, type Report } from '../yaml/check.ts';
import { type EvidenceText, evidenceSchema } from './evidence-schema.ts';

const LIMIT_BYTES = 512 * 1024;

/** What a source says of its machine; null where it does not say. */
export interface EvidenceMachine {
  kind: SourceKind;
  ratedW: number;
  focalMm: number | null;
  spotMm: { xMm: number; yMm: number } | null;
  /** Bounds of a spot that nobody stated. */
  spotBetweenMm: { from: number; to: number } | null;
}

/** One published cut. */
export interface PublishedCut {
  id: string;
  material: string;
  thicknessMm: number;
  ratedW: number;
  power: PowerSetting;
  speedMmPerS: number;
  passes: number;
  /** Waist above (+) or below (−) the top face; 0 where it is not stated. */
  focusMm: number;
  /** `limit`: the highest speed at which it still parted. */
  outcome: 'cut' | 'not' | 'limit';
  /** Null where none was measured. */
  depthMm: number | null;
  /** `daily` rows carry a margin that is not stated; the two sides of a `bracket` share a boundary. */
  use: 'daily' | 'test' | 'bracket';
  /** Which boundary of its source the row is a side of; null unless `use` is `bracket`. */
  bracket: string | null;
  /** A: all stated by one who cut it; B: one thing inferred; C: two or more. */
  quality: 'A' | 'B' | 'C';
  /** A worn or dirty machine by the source's own words. */
  worn: boolean;
  /** What of the row is inferred, the source's common inferences included. */
  inferred: string[];
  note: string | null;
}

/** A measured energy per gram removed; a range where only that is published. */
export interface PublishedEnergy {
  id: string;
  matter: string;
  kJPerG: { from: number; to: number };
  materials: string[];
}

/** What one source published. */
export interface Evidence {
  id: string;
  file: string;
  citation: string;
  note: string | null;
  /** Null where the source reports no cuts. */
  machine: EvidenceMachine | null;
  cuts: PublishedCut[];
  energies: PublishedEnergy[];
  placeOf: PlaceOf;
}

/** Reads a `*.evidence.yaml`. Problems carry their place; the value is null when there are any. */
export function readEvidence(source: Source): Loaded<Evidence> {
  return load(source, evidenceSchema, LIMIT_BYTES, (said, placeOf, report) => {
    checkId(said.id, stem(source.name, EVIDENCE_SUFFIX), report);
    checkRows(said, report);
    return toEvidence(source.name, said, placeOf);
  });
}

function checkRows(said: EvidenceText, report: Report): void {
  const cuts = said.cuts ?? [];
  const energies = said.energies ?? [];
  if (cuts.length === 0 && energies.length === 0) report([], 'no row: list cuts or energies', 'missing-key');
  if (cuts.length > 0 && said.machine === undefined) report([], 'machine is missing: cuts stand here', 'missing-key');
  const ids = new Set<string>();
  for (const [list, rows] of [
    ['cuts', cuts],
    ['energies', energies],
  ] as const) {
    for (const [index, row] of rows.entries()) {
      if (ids.has(row.id)) report([list, index, 'id'], `a row ${row.id} stands above`);
      ids.add(row.id);
    }
  }
  for (const [index, row] of cuts.entries()) checkCut(row, index, cuts, report);
  for (const [index, row] of energies.entries()) {
    const range = row.from !== undefined && row.to !== undefined && row.from <= row.to;
    const single = row.energy !== undefined && row.from === undefined && row.to === undefined;
    if (!single && !(row.energy === undefined && range)) {
      report(['energies', index], `${row.id}: state either an energy, or from and to, rising`);
    }
  }
}

type CutText = NonNullable<EvidenceText['cuts']>[number];

function checkCut(row: CutText, index: number, rows: readonly CutText[], report: Report): void {
  const at = ['cuts', index];
  if ((row.use === 'bracket') !== (row.bracket !== undefined)) {
    report(at, `${row.id}: a row of a bracket names it, and no other row does`);
  }
  if (row.use === 'daily' && row.outcome !== 'cut') {
    report([...at, 'use'], `${row.id}: a daily setting is one that cuts`);
  }
  if (row.outcome === 'limit' && row.use !== 'bracket') {
    report([...at, 'use'], `${row.id}: a limit is a boundary: its use is bracket`);
  }
  if (row.depth !== undefined && (row.outcome !== 'not' || row.depth > row.thickness)) {
    report([...at, 'depth'], `${row.id}: a depth belongs to a cut that did not part, and is less than the thickness`);
  }
  const sides = rows.filter((other) => other.bracket === row.bracket).map((other) => other.outcome);
  if (row.bracket !== undefined && !sides.includes('limit') && !(sides.includes('cut') && sides.includes('not'))) {
    report([...at, 'bracket'], `${row.id}: the bracket ${row.bracket} has one side only`);
  }
}

function toEvidence(file: string, said: EvidenceText, placeOf: PlaceOf): Evidence {
  const { machine } = said;
  return {
    id: said.id,
    file,
    citation: said.citation,
    note: said.note ?? null,
    machine: machine
      ? {
          kind: machine.kind,
          ratedW: machine.rated,
          focalMm: machine.lens ?? null,
          spotMm: machine.spot ?? null,
          spotBetweenMm: machine['spot-between'] ?? null,
        }
      : null,
    cuts: (said.cuts ?? []).map((row) => toCut(row, said, machine?.rated ?? Number.NaN)),
    energies: (said.energies ?? []).map((row) => ({
      id: row.id,
      matter: row.matter,
      kJPerG: { from: row.energy ?? row.from!, to: row.energy ?? row.to! },
      materials: row.materials ?? [],
    })),
    placeOf,
  };
}

function toCut(row: CutText, said: EvidenceText, ratedW: number): PublishedCut {
  return {
    id: row.id,
    material: row.material,
    thicknessMm: row.thickness,
    ratedW: row.rated ?? ratedW,
    power: row.power,
    speedMmPerS: row.speed,
    passes: row.passes ?? 1,
    focusMm: row.focus ?? 0,
    outcome: row.outcome,
    depthMm: row.depth ?? null,
    use: row.use,
    bracket: row.bracket ?? null,
    quality: row.quality,
    worn: row.worn ?? false,
    inferred: [...(said.inferred ?? []), ...(row.inferred ?? [])],
    note: row.note ?? null,
  };
}
