import type { Source } from '../../source/source.ts';
import { formatPercent, formatWatts, trimmed } from '../../units/format.ts';
import { MACHINE_SUFFIX, stem } from '../files/paths.ts';
import type { Loaded } from '../files/problem.ts';
import type { Lens, Machine, PlaceOf, Rank, SourceKind } from '../model.ts';
import { load, type Report } from '../yaml/check.ts';
import { classDefaults, lensIdOf } from './class-defaults.ts';
import { FilledIn } from './filled-in.ts';
import { type MachineText, machineSchema } from './machine-schema.ts';

const LIMIT_BYTES = 256 * 1024;

/** The band of wavelengths of each kind in which a stated one is believed, µm. */
const WAVELENGTHS: Record<SourceKind, { from: number; to: number }> = {
  co2: { from: 9, to: 11 },
  diode: { from: 0.35, to: 1.6 },
  fibre: { from: 1, to: 2.1 },
};

/** CSS Values: 1 in = 96 px. */
const PX_PER_INCH = 96;

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
    const id = idOf(lens);
    const key = lens.id === undefined ? 'focal' : 'id';
    if (ids.has(id.toLowerCase())) report(['lenses', index, key], `a lens "${id}" stands above`);
    ids.add(id.toLowerCase());
  }
}

const idOf = (lens: MachineText['lenses'][number]): string => lens.id ?? lensIdOf(lens.focal);

function toMachine(file: string, rank: Rank, said: MachineText, placeOf: PlaceOf): Machine {
  const lenses = said.lenses.map((lens) => ({ id: idOf(lens), focalMm: lens.focal }));
  const filled = new FilledIn(classDefaults({ kind: said.source.kind, ratedW: said.source.rated, lenses }));
  const source = toSource(said.source, filled);
  const { beam, lenses: fitted } = toBeam(said, filled);
  const motion = toMotion(said.motion, filled);
  const controller = toController(said.controller, filled);
  return {
    id: said.id,
    rank,
    file,
    invented: said.invented ?? false,
    assumed: filled.assumed,
    source,
    beam,
    lenses: fitted,
    travel: { xMm: said.travel.x, yMm: said.travel.y, zMm: said.travel.z ?? null },
    motion,
    artwork: {
      pxPerInch: said.artwork?.['px-per-inch'] ?? PX_PER_INCH,
      stated: said.artwork?.['px-per-inch'] !== undefined,
    },
    controller,
    air: toAir(said.air),
    rates: toRates(said.rates),
    bench: null,
    placeOf,
  };
}

function toAir(said: MachineText['air']): Machine['air'] {
  if (said === undefined) return null;
  const { maximum, on, off } = said;
  return {
    maximumBar: maximum ?? null,
    switched: on !== undefined && off !== undefined ? { on, off } : null,
  };
}

function toMotion(said: MachineText['motion'], filled: FilledIn): Machine['motion'] {
  const speedMmPerS = filled.number('motion.speed', said?.speed);
  return {
    speedMmPerS,
    rapidMmPerS: said?.rapid ?? said?.speed ?? filled.number('motion.rapid', undefined),
    accelerationMmPerS2: filled.number('motion.acceleration', said?.acceleration),
    cornerDeviationMm: filled.number('motion.corner-deviation', said?.['corner-deviation']),
    airDelayS: said?.['air-delay'] ?? 0,
    stated: said?.speed !== undefined && said.acceleration !== undefined,
  };
}

function toController(said: MachineText['controller'], filled: FilledIn): Machine['controller'] {
  return {
    power: said?.power ?? null,
    m4: filled.word('controller.m4', said?.m4),
    beamOffOnRapid: known(said?.['beam-off-on-rapid']),
    beamOffWhenStopped: known(said?.['beam-off-when-stopped']),
    zZero: filled.word('controller.z-zero', said?.['z-zero']),
    arcToleranceMm: filled.number('controller.arc-tolerance', said?.['arc-tolerance']),
    harmless: new Map(Object.entries(said?.harmless ?? {}).map(([code, does]) => [plainCode(code), does])),
    blockDelete: said?.['block-delete'] ?? null,
    stated: said !== undefined,
  };
}

function toSource(said: MachineText['source'], filled: FilledIn): Machine['source'] {
  const curve = said.curve ? [...said.curve].sort((a, b) => a.fraction - b.fraction) : null;
  const atFull = curve?.find((point) => point.fraction === 1)?.watts;
  return {
    kind: said.kind,
    wavelengthUm: filled.number('source.wavelength', said.wavelength),
    ratedW: said.rated,
    measuredW: said.measured ?? atFull ?? null,
    curve,
    measuredOn: said['measured-on'] ?? null,
    atCorners: said['at-corners'] ?? null,
    hoursH: said.hours ?? null,
    ...limitsOf(said, filled),
  };
}

/** Ceiling and firing floor; of two that contradict each other the one that is stated holds alone. */
function limitsOf(said: MachineText['source'], filled: FilledIn): Pick<Machine['source'], 'ceiling' | 'floor'> {
  const { ceiling, floor } = said;
  const usual = { ceiling: filled.usual('source.ceiling') ?? 1, floor: filled.usual('source.floor') ?? 0 };
  return {
    ceiling:
      floor !== undefined && floor >= usual.ceiling
        ? (ceiling ?? null)
        : filled.numberOrNull('source.ceiling', ceiling),
    floor:
      ceiling !== undefined && ceiling <= usual.floor ? (floor ?? null) : filled.numberOrNull('source.floor', floor),
  };
}

/**
 * Beam and lenses. The spot of a diode is assumed as such unless all that makes it is stated, since no M² says what several emitters side
 * by side come to.
 */
function toBeam(said: MachineText, filled: FilledIn): Pick<Machine, 'beam' | 'lenses'> {
  const { kind } = said.source;
  const stated = said.beam ?? {};
  const whole = stated.diameter !== undefined && stated.m2 !== undefined;
  const diameterMm = filled.number('beam.diameter', stated.diameter);
  const lenses = said.lenses.map((lens): Lens => {
    const id = idOf(lens);
    const spotMm = kind === 'diode' && !whole ? roundSpot(filled, id, lens.spot) : (lens.spot ?? null);
    // Under a stated spot nothing rests on what the lens is made of or how it is ground.
    const matters = spotMm === null;
    return {
      id,
      focalMm: lens.focal,
      shape: filled.word(`lenses.${id}.shape`, lens.shape, matters),
      material: filled.word(`lenses.${id}.material`, lens.material, matters),
      standoffMm: lens.standoff ?? null,
      spotMm,
    };
  });
  const computed = lenses.some(({ spotMm }) => spotMm === null);
  const m2 = kind === 'diode' || !computed ? (stated.m2 ?? 1) : filled.number('beam.m2', stated.m2);
  return { beam: { diameterMm, m2 }, lenses };
}

function roundSpot(filled: FilledIn, lens: string, stated: Lens['spotMm'] | undefined): Lens['spotMm'] {
  if (stated) return stated;
  const sideMm = filled.number(`lenses.${lens}.spot`, undefined);
  return { xMm: sideMm, yMm: sideMm };
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

/** A code as readers name it: "M42" for "m042". */
function plainCode(code: string): string {
  return code[0]!.toUpperCase() + Number(code.slice(1));
}

function known(gate: boolean | 'unknown' | undefined): boolean | null {
  return gate === undefined || gate === 'unknown' ? null : gate;
}
