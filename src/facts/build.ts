import { readToolpath } from '../gcode/read.ts';
import type { Toolpath } from '../gcode/toolpath.ts';
import type { Lens, Machine, Material, Money, Thickness } from '../job/model.ts';
import type { Location } from '../source/place.ts';
import { type Source, SourceUnreadable } from '../source/source.ts';
import type { Artwork } from '../svg/artwork.ts';
import { artworkGeometry } from './artwork/artwork-geometry.ts';
import { type CutContext, type Cuts, cutsOfPlan, cutsOfToolpath, seekRemedies } from './cuts/cuts.ts';
import { planOutlines, timeOfPlan } from './cuts/planned-time.ts';
import {
  beamFact,
  beamOf,
  CutPredictor,
  powerFact,
  stockOf,
  thicknessSpreadMm,
  widestAcross,
} from './cuts/prediction.ts';
import type { JobFacts, JobOrigin, TaskFact } from './facts.ts';
import type { ArtworkReader } from './input/artwork-reader.ts';
import { artworkOptionsOf, toolpathOptionsOf } from './input/reader-options.ts';
import { laidOver, matchFact, outlineOfStrokes } from './match/match.ts';
import { placeOnBed } from './match/on-bed.ts';
import { areaFacts } from './order/areas.ts';
import { orderFact } from './order/order.ts';
import { type Assignment, assignTasks, taskFacts } from './tasks/tasks.ts';
import { budgetInForce, wasteOf } from './waste/waste.ts';

/** Everything the facts of one job are made from; machine and material are already resolved and trusted. */
export interface FactsInput {
  job: JobOrigin;
  machine: Machine | null;
  material: Material | null;
  materialUnknown: boolean;
  materialName: string | null;
  /** What may have been meant where that name is not known. */
  materialNear: string | null;
  /** Lens asked for; null: the machine's first. */
  lens: string | null;
  thickness: Thickness | null;
  toolpath: Source | null;
  artwork: Source | null;
  /** Null when the job has no artwork. */
  artworkReader: ArtworkReader | null;
  inputProblems: JobFacts['inputProblems'];
  remarks: JobFacts['remarks'];
  incomplete: string[];
  fromOptions: boolean;
  budget: Money | null;
  today: string;
  onProgress?: (file: string, bytes: number, size: number) => void;
}

/** Computes the facts of one job. Never throws on input: what cannot be read becomes an input problem. */
export function buildFacts(input: FactsInput): JobFacts {
  const { machine, material, job } = input;
  const inputProblems = [...input.inputProblems];
  const sidecar = job.sidecar;
  const lens = machine ? chooseLens(machine, input.lens) : null;
  const optics = machine && lens ? beamOf(machine, lens) : null;
  const beam = optics?.beam ? widestAcross(optics.beam) : null;

  const toolpath = machine
    ? reading(input.toolpath, inputProblems, (source) =>
        readToolpath(
          source,
          toolpathOptionsOf(machine, beam?.spotMm ?? null, (bytes) =>
            input.onProgress?.(source.name, bytes, source.size),
          ),
        ),
      )
    : null;
  const { artworkReader } = input;
  const artwork = reading(input.artwork, inputProblems, (source) => {
    if (artworkReader === null) throw new Error('there is artwork, but what reads it was not loaded');
    return artworkReader.readArtwork(source, artworkOptionsOf(machine));
  });

  const power = machine ? powerFact(machine) : null;
  const fullW = power?.fullW ?? 0;
  const laid = toolpath && artwork ? laidOver(toolpath, artwork) : null;
  const assignment = assignTasks({
    job,
    sidecar,
    toolpath,
    artwork,
    hexOf: (colour) => artworkReader?.parseColour(colour)?.hex ?? null,
    fullW,
    byGeometry: laid ? outlineOfStrokes(laid, toolpath!.strokes.count) : null,
  });
  const tasks = taskFacts(assignment);
  const onBed = placeOnBed(sidecar, toolpath, artwork);
  const notPredicted = whyNotPredicted(input, lens, optics?.problem ?? null, power !== null);
  const stock = material ? stockOf(material) : null;
  const spreadMm = input.thickness ? thicknessSpreadMm(input.thickness) : 0;
  const predictor =
    machine && lens && beam && material && stock && input.thickness && notPredicted === null
      ? new CutPredictor({
          machine,
          lens,
          beam,
          material,
          stock,
          thicknessMm: input.thickness.mm,
          thicknessSpreadMm: spreadMm,
          bowMm: sidecar?.bowMm ?? 0,
        })
      : null;

  const found: Cuts = { cuts: [], speeds: [], incomplete: null };
  if (machine) {
    const context: CutContext = { job, machine, predictor, notPredicted, onBed, fullW, short: [] };
    if (toolpath) append(found, cutsOfToolpath(context, toolpath, assignment));
    if (artwork) {
      // Without a toolpath all is predicted from the plan; with one, only tasks that were not found in it.
      const missing = tasks.flatMap((task, i) => (!toolpath || (task.strokes.length === 0 && task.planned) ? [i] : []));
      append(
        found,
        cutsOfPlan(
          context,
          artwork,
          assignment,
          missing,
          (i) => tasks[i]!.outlines,
          (task, outlines) => planOutlines(artwork, machine, task, outlines),
        ),
      );
    }
    seekRemedies(context);
  }
  const time = machine ? timeFact(machine, toolpath, artwork, tasks) : null;
  measureTasks(tasks, toolpath, artwork, machine);
  const through = found.cuts.filter((cut) => cut.aim === 'through' && cut.prediction);
  const worstThrough =
    through.length > 0 ? Math.min(...through.map((cut) => cut.prediction!.throughProbability)) : null;
  const kerfs = found.cuts.flatMap((cut) => (cut.prediction?.kerfTopMm ? [cut.prediction.kerfTopMm] : []));
  const kerfMm = kerfs.length > 0 ? Math.max(...kerfs) : (beam?.spotMm ?? null);
  const match = toolpath
    ? matchFact({ job, sidecar, toolpath, artwork, laid, assignment, cuts: found.cuts, kerfMm })
    : null;
  markUnpowered(tasks, match?.missing ?? []);
  const box = toolpath ? toolpath.boundsMm : (artwork?.boundsMm ?? null);
  return {
    input: job,
    machine,
    lens,
    lensAssumed: input.lens === null && lens !== null,
    material,
    materialUnknown: input.materialUnknown,
    materialName: input.materialName,
    materialNear: input.materialNear,
    thicknessMm: input.thickness?.mm ?? null,
    thicknessSpreadMm: spreadMm,
    toolpath,
    artwork,
    tasks,
    unassignedOutlines: sidecar && sidecar.tasks.length > 0 ? unassigned(assignment) : [],
    cuts: found.cuts,
    power,
    beam: beam && lens ? beamFact(beam, lens) : null,
    time,
    waste:
      machine && time
        ? wasteOf({
            sidecar,
            machine,
            time,
            jobAreaMm2: box ? (box.maxX - box.minX) * (box.maxY - box.minY) : null,
            worstThrough,
          })
        : null,
    areas: toolpath && machine ? areaFacts(toolpath, tasks, machine, fullW, beam?.spotMm ?? null, job) : [],
    order: toolpath ? orderFact(toolpath, assignment, job, fullW) : null,
    geometry: artwork
      ? artworkGeometry({
          artwork,
          tasks,
          file: job.files.artwork ?? job.home.file,
          kerfMm,
          thicknessMm: input.thickness?.mm ?? null,
          sidecar,
          toolpath,
          match,
        })
      : null,
    match,
    speeds: found.speeds,
    onBed: onBed.box,
    onBedUnknown: onBed.unknown,
    inputProblems,
    remarks: input.remarks,
    incomplete: found.incomplete === null ? input.incomplete : [...input.incomplete, found.incomplete],
    fromOptions: input.fromOptions,
    budget: budgetInForce(sidecar?.budget ?? null, input.budget),
    today: input.today,
  };
}

/** The lens asked for, the machine's first when none is; null when the machine has no such lens. */
function chooseLens(machine: Machine, wanted: string | null): Lens | null {
  if (wanted === null) return machine.lenses[0] ?? null;
  return machine.lenses.find((lens) => lens.id === wanted) ?? null;
}

function reading<T>(source: Source | null, problems: JobFacts['inputProblems'], read: (source: Source) => T): T | null {
  if (!source) return null;
  try {
    return read(source);
  } catch (error) {
    if (!(error instanceof SourceUnreadable)) throw error;
    problems.push({
      file: source.name,
      problem: {
        code: 'unreadable',
        place: { line: 1, column: 1, endLine: 1, endColumn: 1 },
        args: { reason: error.reason },
      },
      severity: 'error',
      unreadable: true,
    });
    return null;
  }
}

function whyNotPredicted(input: FactsInput, lens: Lens | null, optics: string | null, power: boolean): string | null {
  const { machine, material } = input;
  if (!machine) return 'the machine is not known';
  if (!lens) return 'the lens is not known';
  if (optics !== null) return optics;
  if (!power) return "the profile's power figures cannot be used";
  if (!material) return 'the material is not known';
  if (!input.thickness) return 'the thickness is not known';
  if (material.hazard.class === 'never') return `${material.name} must not be cut`;
  if (material.sources[machine.source.kind] !== 'cuts') return `this source does not cut ${material.name}`;
  if (!material.removal) return `no removal energy is known for ${material.name}`;
  return null;
}

function timeFact(
  machine: Machine,
  toolpath: Toolpath | null,
  artwork: Artwork | null,
  tasks: readonly TaskFact[],
): JobFacts['time'] {
  if (toolpath) {
    const { totalS, cuttingS, rasterS, travelS, dwellS } = toolpath.time;
    return { totalS, cuttingS, rasterS, travelS, dwellS, basis: 'toolpath' };
  }
  if (!artwork || !tasks.some((task) => task.planned?.speedMmPerS)) return null;
  let cuttingS = 0;
  const order: number[] = [];
  for (const task of tasks) {
    if (!task.planned) continue;
    cuttingS += planOutlines(artwork, machine, task.planned, task.outlines).timeS;
    for (let pass = 0; pass < task.planned.passes; pass++) order.push(...task.outlines);
  }
  return timeOfPlan(artwork, machine, cuttingS, order);
}

/** Lengths and times of the tasks, from the toolpath where it has their strokes, else from the artwork as planned. */
function measureTasks(
  tasks: TaskFact[],
  toolpath: Toolpath | null,
  artwork: Artwork | null,
  machine: Machine | null,
): void {
  for (const task of tasks) {
    if (toolpath && task.strokes.length > 0) {
      for (const i of task.strokes) {
        const length = strokeLengthMm(toolpath, i);
        task.lengthMm += length;
        const speed = toolpath.strokes.reachedMmPerS[i]!;
        if (speed > 0) task.timeS += length / speed;
      }
    } else if (artwork) {
      for (const i of task.outlines) task.lengthMm += artwork.outlines[i]!.lengthMm;
      if (machine && task.planned) task.timeS = planOutlines(artwork, machine, task.planned, task.outlines).timeS;
    }
    for (const area of task.areas) task.timeS += toolpath?.areas[area]?.timeS ?? 0;
  }
}

export function strokeLengthMm(toolpath: Toolpath, i: number): number {
  const { strokes } = toolpath;
  const sweep = strokes.sweepRad[i]!;
  const rise = strokes.endZ[i]! - strokes.startZ[i]!;
  if (sweep === 0) {
    const [dx, dy] = [strokes.endX[i]! - strokes.startX[i]!, strokes.endY[i]! - strokes.startY[i]!];
    // Asked for each of millions: Math.hypot takes ten times as long.
    return Math.sqrt(dx * dx + dy * dy + rise * rise);
  }
  const radius = Math.hypot(strokes.startX[i]! - strokes.centreX[i]!, strokes.startY[i]! - strokes.centreY[i]!);
  return Math.hypot(radius * Math.abs(sweep), rise);
}

function unassigned(assignment: Assignment): number[] {
  const none: number[] = [];
  for (let i = 0; i < assignment.ofOutline.length; i++) if (assignment.ofOutline[i] === -1) none.push(i);
  return none;
}

/** An outline is unpowered when nothing of it is in the toolpath. */
function markUnpowered(
  tasks: TaskFact[],
  missing: readonly { outline: number; location: Location; lengthMm: number; outlineLengthMm: number }[],
): void {
  const whole = missing.filter((one) => one.lengthMm >= one.outlineLengthMm * 0.999);
  for (const task of tasks) {
    const own = new Set(task.outlines);
    task.unpoweredOutlines = whole
      .filter((one) => own.has(one.outline))
      .map(({ outline, location }) => ({ outline, location }));
  }
}

function append(to: Cuts, more: Cuts): void {
  to.cuts.push(...more.cuts);
  to.speeds.push(...more.speeds);
  to.incomplete ??= more.incomplete;
}
