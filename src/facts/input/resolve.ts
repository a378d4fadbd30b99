import type { FoundJob } from '../../job/files/job-opener.ts';
import type { Library } from '../../job/files/library.ts';
import type { FileNote, FileProblem } from '../../job/files/problem.ts';
import type { Machine, Material, Sidecar } from '../../job/model.ts';
import type { Location } from '../../source/place.ts';
import { parseThickness } from '../../units/compound-quantities.ts';
import type { FactsInput } from '../build.ts';
import type { InputProblem, InputRemark, JobOrigin } from './job-origin.ts';

/** Word in a sidecar for a material that nobody can name. */
const UNKNOWN = 'unknown';

/** What the command line says of bare files. */
export interface BareOptions {
  untrusted: boolean;
  machine?: string;
  lens?: string;
  material?: string;
  thickness?: string;
}

export type ResolvedJob = Omit<FactsInput, 'budget' | 'today' | 'readers' | 'onProgress'>;

/** Finds a job's machine and material by the rules of trust, and says what came of it. */
export function resolveJob(found: FoundJob, library: Library, options: BareOptions): ResolvedJob {
  const sidecar = found.sidecar?.value ?? null;
  const job = jobInput(found, sidecar);
  const inputProblems: InputProblem[] = found.problems.map((problem) => asInput(problem));
  const remarks: InputRemark[] = [];
  const incomplete: string[] = [];
  const broken = found.sidecar !== null && sidecar === null;
  const bare = found.sidecar === null;
  const machineName = sidecar?.machine ?? (bare ? (options.machine ?? null) : null);
  const materialName = sidecar?.material ?? (bare ? (options.material ?? null) : null);
  const where = (key: string): Location => sidecar?.placeOf([key]) ?? job.home;

  let machine: Machine | null = null;
  if (machineName !== null) {
    const answer = library.machine(machineName, found.beside, found.machinePath);
    machine = answer.value;
    take(answer, inputProblems, remarks);
    if (!machine && answer.problems.length === 0 && !(found.machinePath === null && machineName.includes('/'))) {
      inputProblems.push(unknownId('machine', machineName, answer.near, where('machine')));
    }
    if (machine && !answer.trusted) {
      incomplete.push(`the machine ${machineName} is not one of the shop's`);
    }
  } else if (!broken && found.toolpath) incomplete.push('no machine was named');

  let material: Material | null = null;
  let materialNear: string | null = null;
  const materialUnknown = materialName !== null && materialName.trim().toLowerCase() === UNKNOWN;
  if (materialName !== null && !materialUnknown) {
    const answer = library.material(materialName, found.beside);
    material = answer.value;
    materialNear = answer.near;
    take(answer, inputProblems, remarks);
    if (!material && answer.problems.length === 0) {
      inputProblems.push(unknownId('material', materialName, answer.near, where('material')));
    }
    if (material && !answer.trusted) incomplete.push(`the material ${materialName} is described only beside the job`);
  }
  const stated = bare && options.thickness !== undefined ? parseThickness(options.thickness) : null;
  return {
    job,
    machine,
    material,
    materialUnknown,
    materialName,
    materialNear,
    lens: sidecar?.lens ?? (bare ? (options.lens ?? null) : null),
    thickness: sidecar?.thickness ?? (stated?.ok ? stated.value : null),
    toolpath: found.toolpath,
    artwork: found.artwork,
    inputProblems,
    remarks,
    incomplete,
    fromOptions: bare,
  };
}

function jobInput(found: FoundJob, sidecar: Sidecar | null): JobOrigin {
  const files = {
    sidecar: found.sidecarSource?.name ?? null,
    toolpath: found.toolpath?.name ?? null,
    artwork: found.artwork?.name ?? null,
  };
  const home = files.sidecar ?? files.toolpath ?? files.artwork ?? found.name;
  return { name: found.name, sidecar, files, home: { file: home, line: 1, column: 1, endLine: 1, endColumn: 1 } };
}

function take(
  answer: { notes: FileNote[]; problems: FileProblem[] },
  problems: InputProblem[],
  remarks: InputRemark[],
): void {
  for (const problem of answer.problems) problems.push(asInput(problem));
  for (const note of answer.notes) remarks.push({ text: note.text, location: note.place });
}

function asInput(problem: FileProblem): InputProblem {
  return {
    file: problem.place.file,
    problem,
    severity: 'error',
    unreadable: problem.code === 'unreadable' || problem.code === 'outside-root',
  };
}

function unknownId(what: 'machine' | 'material', name: string, near: string | null, place: Location): InputProblem {
  const shown = name.length > 60 ? `${name.slice(0, 60)}…` : name;
  const guess = near === null ? '' : ` Did you mean ${near}?`;
  const text =
    what === 'machine'
      ? `there is no machine "${shown}" in the shop or the catalogue.${guess} Name one, or describe it in a *.machine.yaml.`
      : `there is no material "${shown}" in the shop or the catalogue.${guess} Name one, or describe it in a *.material.yaml.`;
  const problem: FileProblem = { code: 'unknown-id', place, args: { text } };
  return asInput(problem);
}
