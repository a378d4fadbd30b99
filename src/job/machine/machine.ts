import type { Source } from '../../source/source.ts';
import { formatPercent, formatWatts, trimmed } from '../../units/format.ts';
import { MACHINE_SUFFIX, stem } from '../files/paths.ts';
import type { Loaded } from '../files/problem.ts';
import type { Lens, Machine, PlaceOf, Rank, SourceKind } from '../model.ts';
import { load, type Report } from '../yaml/check.ts';
import { type MachineText, machineSchema } from './machine-schema.ts';

const LIMIT_BYTES = 256 * 1024;

/** The usual wavelength of each kind, µm, and the band in which a stated one is believed. */
const WAVELENGTHS: Record<SourceKind, { usual: number; from: number; to: number }> = {
  co2: { usual: 10.6, from: 9, to: 11 },
  diode: { usual: 0.45, from: 0.35, to: 1.6 },
  fibre: { usual: 1.064, from: 1, to: 2.1 },
};

/** What is taken where a profile has no motion section: a middling gantry. Facts that rest on it say so by `stated`. */
const MOTION = { speedMmPerS: 500, accelerationMmPerS2: 3000, cornerDeviationMm: 0.02, airDelayS: 0 };
/** CSS Values: 1 in = 96 px. */
const PX_PER_INCH = 96;
const ARC_TOLERANCE_MM = 0.05;

/** Reads a `*.machine.yaml`. Problems carry their place; the value is null when there are any. */
export function readMachine(source: Source, rank: Rank): Loaded<Machine> {
  return load(source, machineSchema, LIMIT_BYTES, (said, placeOf, report) => {
    checkId(said.id, stem(source.name, MACHINE_SUFFIX), report);
    checkSource(said.source, report);
    checkLenses(said, report);
    return toMachine(source.name, rank, said, placeOf);
  });
}

/** The file name carries the id, so that a file can be found without opening all of them. */
export function checkId(id: string, name: string, report: Report): void {
  if (id !== name) report(['id'], `the id is "${id}" and the file is called "${name}": make them the same`);
}

function checkSource(said: MachineText['source'], report: Report): void {
  const band = WAVELENGTHS[said.kind];
  if (said.wavelength !== undefined && (said.wavelength < band.from || said.wavelength > band.to)) {
    const what = `${trimmed(said.wavelength, 3)} um is no wavelength of a ${said.kind} source (${band.from} to ${band.to} um)`;
    report(['source', 'wavelength'], what);
  }
  if (said.floor !== undefined && said.ceiling !== undefined && said.floor >= said.ceiling) {
    report(['source', 'floor'], 'the floor is not below the ceiling');
  }
  if (said.curve === undefined) return;
  const points = [...said.curve].sort((a, b) => a.fraction - b.fraction);
  if (points.length < 2) report(['source', 'curve'], 'a curve has at least two settings');
  for (const [index, point] of points.entries()) {
    const before = points[index - 1];
    if (point.fraction > 1) report(['source', 'curve'], 'a setting of the curve is more than 100 %');
    if (before === undefined) continue;
    const setting = formatPercent(point.fraction);
    if (point.fraction === before.fraction) report(['source', 'curve'], `the curve has ${setting} twice`);
    else if (point.watts < before.watts) {
      report(['source', 'curve'], `the curve falls at ${setting}: power rises with the setting`);
    }
  }
  const full = points.at(-1);
  if (full?.fraction === 1 && said.measured !== undefined && said.measured !== full.watts) {
    const what = `the curve says ${formatWatts(full.watts)} at 100 %, measured says ${formatWatts(said.measured)}`;
    report(['source', 'measured'], what);
  }
}

function checkLenses(said: MachineText, report: Report): void {
  const ids = new Set<string>();
  for (const [index, lens] of said.lenses.entries()) {
    if (ids.has(lens.id.toLowerCase())) report(['lenses', index, 'id'], `a lens "${lens.id}" stands above`);
    ids.add(lens.id.toLowerCase());
  }
}

function toMachine(file: string, rank: Rank, said: MachineText, placeOf: PlaceOf): Machine {
  const { source, motion, controller } = said;
  const speedMmPerS = motion?.speed ?? MOTION.speedMmPerS;
  return {
    id: said.id,
    rank,
    file,
    source: toSource(source),
    beam: { diameterMm: said.beam.diameter, m2: said.beam.m2 },
    lenses: said.lenses.map((lens) => toLens(lens, source.kind)),
    travel: { xMm: said.travel.x, yMm: said.travel.y, zMm: said.travel.z ?? null },
    motion: {
      speedMmPerS,
      rapidMmPerS: motion?.rapid ?? speedMmPerS,
      accelerationMmPerS2: motion?.acceleration ?? MOTION.accelerationMmPerS2,
      cornerDeviationMm: motion?.['corner-deviation'] ?? MOTION.cornerDeviationMm,
      airDelayS: motion?.['air-delay'] ?? MOTION.airDelayS,
      stated: motion?.speed !== undefined && motion.acceleration !== undefined,
    },
    artwork: {
      pxPerInch: said.artwork?.['px-per-inch'] ?? PX_PER_INCH,
      stated: said.artwork?.['px-per-inch'] !== undefined,
    },
    controller: {
      power: controller?.power ?? { word: 'S', full: 1000 },
      m4: controller?.m4 ?? 'scaled-with-speed',
      beamOffOnRapid: known(controller?.['beam-off-on-rapid']),
      beamOffWhenStopped: known(controller?.['beam-off-when-stopped']),
      zZero: controller?.['z-zero'] ?? 'fixed',
      arcToleranceMm: controller?.['arc-tolerance'] ?? ARC_TOLERANCE_MM,
      harmless: new Map(Object.entries(controller?.harmless ?? {}).map(([code, does]) => [plainCode(code), does])),
      blockDelete: controller?.['block-delete'] ?? null,
      stated: controller !== undefined,
    },
    air: said.air ? { maximumBar: said.air.maximum } : null,
    rates: toRates(said.rates),
    bench: null,
    placeOf,
  };
}

function toSource(said: MachineText['source']): Machine['source'] {
  const curve = said.curve ? [...said.curve].sort((a, b) => a.fraction - b.fraction) : null;
  const atFull = curve?.find((point) => point.fraction === 1)?.watts;
  return {
    kind: said.kind,
    wavelengthUm: said.wavelength ?? WAVELENGTHS[said.kind].usual,
    ratedW: said.rated,
    measuredW: said.measured ?? atFull ?? null,
    curve,
    measuredOn: said['measured-on'] ?? null,
    atCorners: said['at-corners'] ?? null,
    hoursH: said.hours ?? null,
    ceiling: said.ceiling ?? null,
    floor: said.floor ?? null,
  };
}

function toRates(said: MachineText['rates']): Machine['rates'] {
  return {
    machinePerH: said?.machine ?? null,
    operatorPerH: said?.operator ?? null,
    inputW: said?.input ?? null,
    energyPerKWh: said?.energy ?? null,
    tube: said?.tube ? { price: said.tube.price, lifeH: said.tube.life } : null,
  };
}

function toLens(said: MachineText['lenses'][number], kind: SourceKind): Lens {
  return {
    id: said.id,
    focalMm: said.focal,
    shape: said.shape ?? 'plano-convex',
    material: said.material ?? (kind === 'co2' ? 'ZnSe' : 'glass'),
    standoffMm: said.standoff ?? null,
    spotMm: said.spot ?? null,
  };
}

/** A code as readers name it: "M42" for "m042". */
function plainCode(code: string): string {
  return code[0]!.toUpperCase() + Number(code.slice(1));
}

function known(gate: boolean | 'unknown' | undefined): boolean | null {
  return gate === undefined || gate === 'unknown' ? null : gate;
}
