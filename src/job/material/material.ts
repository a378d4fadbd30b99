import type { Source } from '../../source/source.ts';
import { formatMm } from '../../units/format.ts';
import { MATERIAL_SUFFIX, stem } from '../files/paths.ts';
import type { Loaded } from '../files/problem.ts';
import { checkId } from '../machine/machine.ts';
import type { Coupon, Material, PlaceOf, Provenance, Rank, SourceKind, SourceVerdict } from '../model.ts';
import { load, type Report } from '../yaml/check.ts';
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

function checkNames(said: MaterialText, report: Report): void {
  if ([said.id, said.name, ...(said.aliases ?? [])].some((name) => name.toLowerCase() === 'unknown')) {
    report(['id'], 'no material can be called "unknown": a sidecar says so when nobody knows what it is');
  }
  const names = new Set([said.id.toLowerCase()]);
  for (const [index, alias] of (said.aliases ?? []).entries()) {
    if (names.has(alias.toLowerCase())) report(['aliases', index], `"${alias}" is named twice in this file`);
    names.add(alias.toLowerCase());
  }
}

function checkCoupons(coupons: NonNullable<MaterialText['coupons']>, report: Report): void {
  for (const [index, coupon] of coupons.entries()) {
    if ((coupon.through === undefined) === (coupon.depth === undefined)) {
      report(['coupons', index], `coupon ${index + 1}: state either through (true or false) or a measured depth`);
    } else if (coupon.depth !== undefined && coupon.depth > coupon.thickness) {
      report(['coupons', index, 'depth'], `coupon ${index + 1}: the depth is more than the thickness`);
    }
  }
}

type Said = MaterialText['sources'][SourceKind];

function verdictOf(said: Said): SourceVerdict {
  return typeof said === 'string' ? said : said.verdict;
}

function toMaterial(file: string, rank: Rank, said: MaterialText, placeOf: PlaceOf): Material {
  const removal = said['removal-energy'];
  const share = said['divergence-share'];
  const clean = said['clean-speed'];
  const { thermal, hazard } = said;
  const traits = new Set(said.traits ?? []);
  const sourceReasons: Material['sourceReasons'] = {};
  const transmits: Material['transmits'] = {};
  for (const kind of KINDS) {
    const one = said.sources[kind];
    if (typeof one === 'string') continue;
    sourceReasons[kind] = one.reason;
    if (one.transmits !== undefined) transmits[kind] = one.transmits;
  }
  return {
    id: said.id,
    rank,
    file,
    name: said.name,
    aliases: said.aliases ?? [],
    family: said.family,
    densityGPerCm3: said.density.value,
    removal: removal
      ? {
          jPerMm3: removal.value,
          spread: removal.spread,
          provenance: removal.source,
          coupons: removal.coupons ?? 0,
          before: beforeEvidence(removal['before-evidence']),
        }
      : null,
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
    sourceReasons,
    transmits,
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
    coupons: (said.coupons ?? []).map(toCoupon),
    focusCalibration: said.focus ? { offsetMm: said.focus.offset, spreadMm: said.focus.spread } : null,
    placeOf,
  };
}

type BeforeText = NonNullable<MaterialText['removal-energy']>['before-evidence'];

function beforeEvidence(said: BeforeText): NonNullable<Material['removal']>['before'] {
  return said ? { jPerMm3: said.value, spread: said.spread, provenance: said.source } : null;
}

function toCoupon(said: NonNullable<MaterialText['coupons']>[number]): Coupon {
  return {
    machine: said.machine ?? null,
    lens: said.lens ?? null,
    thicknessMm: said.thickness,
    powerW: said.power,
    speedMmPerS: said.speed,
    passes: said.passes ?? 1,
    focusMm: said.focus ?? 0,
    focusStepMm: said['focus-step'] ?? 0,
    through: said.through ?? null,
    depthMm: said.depth ?? null,
    date: said.date ?? null,
  };
}
