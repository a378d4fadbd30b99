import type { FoundJob } from '../../job/files/job-opener.ts';
import type { FoundMaterial, Library } from '../../job/files/library.ts';
import type { FileNote, FileProblem } from '../../job/files/problem.ts';
import { meantText } from '../../job/material/names/hint-text.ts';
import type { Machine, Sidecar } from '../../job/model.ts';
import type { Location } from '../../source/place.ts';
import { parseThickness } from '../../units/compound-quantities.ts';
import type { FactsInput } from '../build.ts';
import { missingFacts } from '../unanswered/missing-facts.ts';
import { PARTS, type Unanswered } from '../unanswered/unanswered.ts';
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
  const bare = found.sidecar === null;
  const asked = bare ? options : sidecar;
  const machineName = asked?.machine ?? null;
  const materialName = asked?.material ?? null;
  const where = (key: string): Location => sidecar?.placeOf([key]) ?? job.home;
  const said: Said = { inputProblems: found.problems.map((problem) => asInput(problem)), remarks: [], unanswered: [] };

  const stated = bare && options.thickness !== undefined ? parseThickness(options.thickness) : null;
  const thickness = sidecar?.thickness ?? (stated?.ok ? stated.value : null);
  const machine = machineName === null ? null : resolveMachine(found, library, machineName, where('machine'), said);
  const materialUnknown = materialName !== null && materialName.trim().toLowerCase() === UNKNOWN;
  const material =
    materialName === null || materialUnknown
      ? { value: null, meant: null }
      : resolveMaterial(found, library, materialName, where('material'), said);
  said.unanswered.push(...missingFacts(found, { machine: machineName, material: materialName, thickness }));
  return {
    job,
    machine,
    material: material.value,
    materialUnknown,
    materialName,
    materialMeant: material.meant,
    lens: asked?.lens ?? null,
    thickness,
    toolpath: found.toolpath,
    artwork: found.artwork,
    citedCuts: library.citedCuts,
    ...said,
    fromOptions: bare,
  };
}

/** What is said of the files that a job is resolved from. */
interface Said {
  inputProblems: InputProblem[];
  remarks: InputRemark[];
  unanswered: Unanswered[];
}

function resolveMachine(
  { beside, machinePath, toolpath }: FoundJob,
  library: Library,
  name: string,
  place: Location,
  said: Said,
): Machine | null {
  const answer = library.machine(name, beside, machinePath);
  take(answer, said);
  if (!answer.value && answer.problems.length === 0 && !(machinePath === null && name.includes('/'))) {
    const near = answer.near === null ? [] : [`Did you mean ${answer.near}?`];
    said.inputProblems.push(unknownId('machine', name, [...near, knownMachines(library)].join(' '), place));
  }
  if (!answer.value) {
    said.unanswered.push({
      fact: 'machine',
      what: `what the machine does, and ${PARTS}`,
      missing: toolpath ? 'the toolpath was not analysed: the machine is not known' : 'the machine is not known here',
      remedy: 'Name a machine that has a profile, or write one: `kerflint init --machine <id>`.',
    });
  } else if (!answer.trusted) {
    said.unanswered.push({
      fact: 'machine',
      what: PARTS,
      missing: `the machine ${name} is not one of the shop's`,
      remedy: 'Name a machine of the shop, or put its profile into the shop’s folder (`--shop`).',
    });
  }
  return answer.value;
}

function resolveMaterial(
  { beside }: FoundJob,
  library: Library,
  name: string,
  place: Location,
  said: Said,
): Pick<FoundMaterial, 'value' | 'meant'> {
  const answer = library.material(name, beside);
  take(answer, said);
  if (!answer.value && answer.problems.length === 0) {
    said.inputProblems.push(unknownId('material', name, answer.meant && meantText(answer.meant), place));
  }
  if (answer.value && !answer.trusted) {
    said.unanswered.push({
      fact: 'material',
      what: `what the sheet gives off, and ${PARTS}`,
      missing: `the material ${name} is described only beside the job`,
      remedy: 'Name a material of the catalogue, or put its *.material.yaml into the shop’s folder (`--shop`).',
    });
  }
  return answer;
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

function take(answer: { notes: FileNote[]; problems: FileProblem[] }, { inputProblems, remarks }: Said): void {
  for (const problem of answer.problems) inputProblems.push(asInput(problem));
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

/** More ids than this are counted. */
const MOST_LISTED = 8;

function knownMachines(library: Library): string {
  const [shop, catalogue] = (['shop', 'catalogue'] as const).map((rank) => {
    const { machines } = library.ids(rank);
    const more = machines.length - MOST_LISTED;
    const listed = machines.slice(0, MOST_LISTED).join(', ');
    return machines.length === 0 ? 'none' : `${listed}${more > 0 ? ` and ${more} more` : ''}`;
  });
  return `The shop has ${shop}; the catalogue has ${catalogue}.`;
}

function unknownId(what: 'machine' | 'material', name: string, hint: string | null, place: Location): InputProblem {
  const shown = name.length > 60 ? `${name.slice(0, 60)}…` : name;
  const guess = hint === null ? '' : ` ${hint}`;
  const text =
    what === 'machine'
      ? `there is no machine "${shown}" in the shop or the catalogue.${guess} Name one, or describe it in a *.machine.yaml.`
      : `there is no material "${shown}" in the shop or the catalogue.${guess} Name one, or describe it in a *.material.yaml.`;
  const problem: FileProblem = { code: 'unknown-id', place, args: { text } };
  return asInput(problem);
}
