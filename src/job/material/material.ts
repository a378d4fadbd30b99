import type { Source } from '../../source/source.ts';
import { formatMm } from '../../units/format.ts';
import { MATERIAL_SUFFIX, stem } from '../files/paths.ts';
import type { Loaded } from '../files/problem.ts';
import { checkId } from '../machine/machine.ts';
import type { Material, PlaceOf, Provenance, Rank, SourceKind, SourceVerdict } from '../model.ts';
import { load, type Report } from '../yaml/check.ts';
import { checkCoupons, cutAndSeen } from './coupon-schema.ts';
import { type MaterialText, materialSchema } from './material-schema.ts';

/** Room for years of coupons. */
const LIMIT_BYTES = 512 * 1024;

const KINDS: readonly SourceKind[] = ['co2', 'diode', 'fibre'];

/** The catalogue's prior for the divergence share, fitted to where pine parts and to what the trade counts on a lens for. */
const DIVERGENCE = { share: 0.15, low: 0.05, high: 0.4 };

/** Reads a `*.material.yaml`. Problems carry their place; the value is null when there are any. */
export function readMaterial(source: Source, rank: Rank): Loaded<Material> {
  return load(source, materialSchema, LIMIT_BYTES, (said, placeOf, report) => {
    checkId(said.id, stem(source.name, MATERIAL_SUFFIX), report);
    checkNumbers(said, report);
    checkNames(said, report);
    checkCoupons(said.coupons ?? [], report);
    return toMaterial(source.name, rank, said, placeOf);
  });
}

/** A provenance as one text for people; a published source stands alone. */
function provenanceText(provenance: Provenance): string {
  const { kind, source } = provenance;
  if (kind === 'published') return source;
  if (kind === 'common-practice')
    return source === '' ? 'common practice, no source' : `common practice, no source: ${source}`;
  return `${kind === 'measured-here' ? 'measured here' : kind}: ${source}`;
}

function checkNumbers(said: MaterialText, report: Report): void {
  const cut = KINDS.some((kind) => verdictOf(said.sources[kind]) === 'cuts');
  if (cut && !said['removal-energy']) {
    report([], 'removal-energy is missing: at least one source cuts this material', 'missing-key');
  }
  if (!cut && said['removal-energy']) {
    report(['removal-energy'], 'removal-energy is stated, and no source cuts this material: leave it out');
  }
  const share = said['divergence-share'];
  if (share && !(share.low <= share.value && share.value <= share.high)) {
    report(['divergence-share', 'value'], 'divergence-share: the value does not lie between low and high');
  }
  if (said.thickness.from > said.thickness.to) {
    report(['thickness', 'from'], 'thickness: from is more than to');
  }
  const { from, to } = said.thickness;
  for (const [index, mm] of (said.stock ?? []).entries()) {
    if (mm < from - 1e-9 || mm > to + 1e-9) {
      report(['stock', index], `stock: ${formatMm(mm)} does not lie between the thinnest and the thickest sheet sold`);
    }
  }
}

/** Names beside id and name, each with the keys that it stands under. */
function otherNames(said: MaterialText): { alias: string; path: (string | number)[] }[] {
  const { de = [], fr = [], es = [] } = said['other-languages'] ?? {};
  const under = (names: readonly string[], ...keys: string[]) =>
    names.map((alias, index) => ({ alias, path: [...keys, index] }));
  return [
    ...under(said.aliases ?? [], 'aliases'),
    ...Object.entries({ de, fr, es }).flatMap(([language, names]) => under(names, 'other-languages', language)),
  ];
}

function checkNames(said: MaterialText, report: Report): void {
  const others = otherNames(said);
  if ([said.id, said.name, ...others.map(({ alias }) => alias)].some((name) => name.toLowerCase() === 'unknown')) {
    report(['id'], 'no material can be called "unknown": a sidecar says so when nobody knows what it is');
  }
  const names = new Set([said.id.toLowerCase()]);
  for (const { alias, path } of others) {
    const key = alias.toLowerCase();
    if (names.has(key)) report(path, `"${alias}" is named twice in this file`);
    names.add(key);
  }
}

type Said = MaterialText['sources'][SourceKind];

function verdictOf(said: Said): SourceVerdict {
  return typeof said === 'string' ? said : said.verdict;
}

/** What is said of each kind of source beside its verdict. */
function bySource(
  sources: MaterialText['sources'],
): Pick<Material, 'sourceReasons' | 'sourceConditions' | 'transmits'> {
  const sourceReasons: Material['sourceReasons'] = {};
  const sourceConditions: Material['sourceConditions'] = {};
  const transmits: Material['transmits'] = {};
  for (const kind of KINDS) {
    const one = sources[kind];
    if (typeof one === 'string') continue;
    if ('only-if' in one) sourceConditions[kind] = one['only-if'];
    else {
      sourceReasons[kind] = one.reason;
      if (one.transmits !== undefined) transmits[kind] = one.transmits;
    }
  }
  return { sourceReasons, sourceConditions, transmits };
}

function toMaterial(file: string, rank: Rank, said: MaterialText, placeOf: PlaceOf): Material {
  const removal = said['removal-energy'];
  const share = said['divergence-share'];
  const clean = said['clean-speed'];
  const { thermal, hazard } = said;
  const traits = new Set(said.traits ?? []);
  return {
    id: said.id,
    rank,
    file,
    name: said.name,
    aliases: otherNames(said).map(({ alias }) => alias),
    kinds: said['one-of'] ?? [],
    differs: said.differs ?? null,
    family: said.family,
    densityGPerCm3: said.density.value,
    removal: removal
      ? {
          jPerMm3: removal.value,
          spread: removal.spread,
          provenance: removal.source,
          coupons: removal.coupons ?? 0,
          raisedBy: 1,
          before: beforeEvidence(removal['before-evidence']),
        }
      : null,
    beforeCoupons: null,
    divergence: share ? { share: share.value, low: share.low, high: share.high } : { ...DIVERGENCE },
    cleanSpeedMmPerS: { co2: clean?.co2 ?? null, diode: clean?.diode ?? null, fibre: clean?.fibre ?? null },
    thermal: thermal
      ? {
          conductivityWPerMK: thermal.conductivity,
          diffusivityMm2PerS: thermal.diffusivity,
          temperatureRiseK: thermal['temperature-rise'],
        }
      : null,
    kerfThresholdJPerMm2: said['kerf-threshold']?.value ?? null,
    sources: {
      co2: verdictOf(said.sources.co2),
      diode: verdictOf(said.sources.diode),
      fibre: verdictOf(said.sources.fibre),
    },
    ...bySource(said.sources),
    hazard: { class: hazard.class, reason: hazard.reason, source: provenanceText(hazard.source) },
    traits: {
      mirrored: traits.has('mirrored'),
      clear: traits.has('clear'),
      hiddenGlue: traits.has('hidden-glue'),
      softFoam: traits.has('soft-foam'),
      bareMetal: traits.has('bare-metal'),
      formaldehyde: traits.has('formaldehyde'),
    },
    thicknessMm: { min: said.thickness.from, max: said.thickness.to },
    stockMm: [...new Set(said.stock ?? [])].sort((a, b) => a - b),
    coupons: (said.coupons ?? []).map((one) => ({
      ...cutAndSeen(one),
      machine: one.machine ?? null,
      lens: one.lens ?? null,
    })),
    statesFocus: said.focus !== undefined,
    placeOf,
  };
}

type BeforeText = NonNullable<MaterialText['removal-energy']>['before-evidence'];

function beforeEvidence(said: BeforeText): NonNullable<Material['removal']>['before'] {
  return said ? { jPerMm3: said.value, spread: said.spread, provenance: said.source } : null;
}
