import { buildFacts } from '../facts/build.ts';
import type { LoadedReaders } from '../facts/input/loaded-readers.ts';
import { toolpathOptionsOf } from '../facts/input/reader-options.ts';
import { type BareOptions, resolveJob } from '../facts/input/resolve.ts';
import type { CautionedMaterial } from '../findings/caution.ts';
import type { Finding } from '../findings/finding.ts';
import type { JobResult } from '../findings/result.ts';
import type { FoundJob } from '../job/files/job-opener.ts';
import type { Library } from '../job/files/library.ts';
import type { Money } from '../job/model.ts';
import { readSidecar } from '../job/sidecar/sidecar.ts';
import type { Edit, ProgramEditor } from '../model/editing.ts';
import type { Source } from '../source/source.ts';
import { air } from './air.ts';
import { beamOff } from './beam-off.ts';
import { duplicatePasses } from './duplicate-passes.ts';
import {
  type Candidate,
  type Declined,
  FIXES,
  type FixContext,
  type FixId,
  type JudgedState,
  type Proposal,
} from './fix.ts';
import { LineHistory } from './line-history.ts';
import { gone, worse } from './no-worse.ts';
import { order } from './order.ts';
import { Pieces } from './pieces.ts';
import { otherMotion } from './same-motion.ts';
import { settings } from './settings.ts';
import { sidecarEdits } from './sidecar-edits.ts';

/** What a job is mended and judged by. */
export interface MendInput {
  job: FoundJob;
  library: Library;
  options: BareOptions & { today: string };
  /** Cost limit of the settings. */
  budget: Money | null;
  /** With those loaded that the job's files need. */
  readers: LoadedReaders;
  /** The whole street for one job, as a check runs it. */
  judge: (job: FoundJob) => JobResult;
  /** Longest dwell that is a pierce, s. */
  pierceS: number;
  /** Fixes that were asked for. */
  wanted: ReadonlySet<FixId>;
}

/** A fix that was made and proved. */
export interface Done extends Candidate {
  fix: FixId;
}

/** A fix by itself, as it would change the files that there are. */
export interface SoloFix {
  fix: FixId;
  what: string;
  /** Findings that it mends. */
  findings: Finding[];
  changes: { file: string; edits: Edit[] }[];
}

/** A file of the job and what becomes of it. */
export interface MendedFile {
  original: Source;
  pieces: Pieces;
}

export interface Mended {
  before: JobResult;
  after: JobResult;
  done: Done[];
  declined: Declined[];
  /** The files that change; the toolpath first. */
  files: MendedFile[];
  material: CautionedMaterial | null;
}

/** Candidates that are tried one by one where they cannot all be made together. */
const MOST_ONE_BY_ONE = 20;
/** Contours lie in each other seldom deeper. */
const MOST_ROUNDS = 10;

const PROPOSE: Record<FixId, (context: FixContext) => Proposal> = {
  'duplicate-passes': duplicatePasses,
  'beam-off': beamOff,
  settings: settings,
  order: order,
  air: air,
};

/** A job on its way: what it is now, and what has become of its files. */
interface Stage {
  state: JudgedState;
  toolpath: Pieces;
  sidecar: Pieces | null;
  history: LineHistory;
}

/**
 * Mends what can be proved: each change is read again by the same reader and must do what was said and nothing else, and the job is judged
 * again and must be worse in nothing. What is incomplete, or has no toolpath, is left as it is.
 * @throws SourceUnreadable when a file cannot be read, or changes meanwhile
 */
export async function mend(input: MendInput): Promise<Mended> {
  const mending = new Mending(input);
  const { first } = mending;
  const done: Done[] = [];
  const declined: Declined[] = [];
  let stage = first;
  if (mending.isOpenToFixes) {
    for (const fix of FIXES) {
      const outcome = input.wanted.has(fix) ? await mending.through(stage, fix) : mending.notAsked(stage, fix);
      done.push(...outcome.done);
      declined.push(...outcome.declined);
      stage = outcome.next ?? stage;
    }
    declined.push(...neverDone(stage));
  }
  const { result: before, facts } = first.state;
  const { result: after } = stage.state;
  return { before, after, done, declined, files: filesOf(input.job, stage), material: facts.material };
}

/** What looks as if it could be mended and never is. */
function neverDone({ state, history }: Stage): Declined[] {
  const open = state.result.findings.find(({ rule, status }) => rule === 'toolpath/no-end' && status === 'open');
  if (open === undefined) return [];
  const why = 'it is never added, since the file may have been cut off on its way';
  return [{ fix: null, what: 'The missing end of the program', location: history.original(open.location), why }];
}

/** Each fix by itself, with the findings that it mends: for those who show it beside a finding. */
export async function soloFixes(input: MendInput): Promise<SoloFix[]> {
  const mending = new Mending(input);
  const found: SoloFix[] = [];
  if (!mending.isOpenToFixes) return found;
  for (const fix of FIXES.filter((one) => input.wanted.has(one))) {
    const { next, done, edits } = await mending.attempt(mending.first, fix);
    if (next === null) continue;
    const what = done.map((one) => `${one.what}.`).join(' ');
    found.push({ fix, what, findings: gone(mending.first.state.result, next.state.result), changes: edits });
  }
  return found;
}

function filesOf({ toolpath, sidecarSource }: FoundJob, stage: Stage): MendedFile[] {
  const files: MendedFile[] = [];
  if (toolpath !== null) files.push({ original: toolpath, pieces: stage.toolpath });
  if (sidecarSource !== null && stage.sidecar !== null) files.push({ original: sidecarSource, pieces: stage.sidecar });
  return files.filter(({ pieces }) => pieces.replacements().length > 0);
}

interface Outcome {
  /** Null when nothing was changed. */
  next: Stage | null;
  done: Done[];
  declined: Declined[];
  edits: SoloFix['changes'];
}

/** A change that was proved, or why it was not. */
type Proved = { next: Stage; edits: SoloFix['changes'] } | { why: string };

class Mending {
  readonly first: Stage;
  readonly #input: MendInput;

  constructor(input: MendInput) {
    this.#input = input;
    const { job } = input;
    this.first = {
      state: this.#judged(job),
      toolpath: Pieces.whole(job.toolpath?.size ?? 0),
      sidecar: job.sidecarSource && Pieces.whole(job.sidecarSource.size),
      history: new LineHistory([]),
    };
  }

  get isOpenToFixes(): boolean {
    const { facts, result } = this.first.state;
    return result.verdict !== 'incomplete' && facts.toolpath !== null && facts.machine?.controller.power != null;
  }

  /** A fix, until it finds nothing more that it can do: what is moved may make room for more. */
  async through(stage: Stage, fix: FixId): Promise<Omit<Outcome, 'edits'>> {
    const done: Done[] = [];
    let now = stage;
    for (let round = 1; ; round++) {
      const { next, ...outcome } = await this.attempt(now, fix);
      done.push(...outcome.done);
      now = next ?? now;
      if (next === null || fix !== 'order' || round === MOST_ROUNDS)
        return { next: now, done, declined: outcome.declined };
    }
  }

  /** What a fix that was not asked for would look at. */
  notAsked({ state, history }: Stage, fix: FixId): Omit<Outcome, 'edits'> {
    const { pierceS } = this.#input;
    const { candidates, declined } = PROPOSE[fix]({ ...state, toolpath: state.facts.toolpath!, pierceS });
    const why = `it is made with --${fix}`;
    const told = [...candidates.map(({ what, location }) => ({ what, location, why })), ...declined];
    return {
      next: null,
      done: [],
      declined: told.map((one) => ({ fix, ...one, location: history.original(one.location) })),
    };
  }

  async attempt(stage: Stage, fix: FixId): Promise<Outcome> {
    const { state } = stage;
    const { pierceS, readers } = this.#input;
    const toolpath = state.facts.toolpath!;
    const proposal = PROPOSE[fix]({ ...state, toolpath, pierceS });
    const placed = <C extends Candidate>(one: C): C => ({ ...one, location: stage.history.original(one.location) });
    const declined: Declined[] = proposal.declined.map((one) => ({ fix, ...placed(one) }));
    const { candidates } = proposal;
    if (candidates.length === 0) return { next: null, done: [], declined, edits: [] };
    const machine = state.facts.machine!;
    const options = toolpathOptionsOf(machine, machine.controller.power!, state.facts.beam?.spotMm ?? null);
    const source = state.job.toolpath!;
    const editor = await readers.toolpathReading(source).edit?.(source, options);
    const refuse = (one: Candidate, why: string) =>
      declined.push({ fix, what: one.what, location: stage.history.original(one.location), why });
    if (editor === undefined) {
      for (const one of candidates) refuse(one, 'toolpaths of this format are not edited');
      return { next: null, done: [], declined, edits: [] };
    }
    const { chosen, proved } = this.#choose(stage, proposal, editor, refuse);
    if (proved === null) return { next: null, done: [], declined, edits: [] };
    const done = chosen.map((one) => ({ fix, what: one.what, location: stage.history.original(one.location) }));
    return { next: proved.next, done, declined, edits: proved.edits };
  }

  /** All candidates together; where that cannot be proved, one after the other. */
  #choose(
    stage: Stage,
    proposal: Proposal,
    editor: ProgramEditor,
    refuse: (one: Candidate, why: string) => void,
  ): { chosen: readonly Candidate[]; proved: Extract<Proved, { next: Stage }> | null } {
    const { candidates } = proposal;
    const all = this.#prove(stage, proposal, candidates, editor);
    if ('next' in all) return { chosen: candidates, proved: all };
    if (candidates.length === 1) {
      refuse(candidates[0]!, all.why);
      return { chosen: [], proved: null };
    }
    const chosen: Candidate[] = [];
    const reasons = new Map<Candidate, string>();
    let proved: Extract<Proved, { next: Stage }> | null = null;
    let left = candidates.slice(0, MOST_ONE_BY_ONE);
    // What cannot be made by itself may be once another is.
    for (let before = -1; left.length > 0 && chosen.length > before; ) {
      before = chosen.length;
      left = left.filter((one) => {
        const outcome = this.#prove(stage, proposal, [...chosen, one], editor);
        if ('why' in outcome) return reasons.set(one, outcome.why);
        chosen.push(one);
        proved = outcome;
        return false;
      });
    }
    for (const one of left) refuse(one, reasons.get(one)!);
    for (const one of candidates.slice(MOST_ONE_BY_ONE))
      refuse(one, `not all can be made together, and only the first ${MOST_ONE_BY_ONE} were tried by themselves`);
    return { chosen, proved };
  }

  #prove(stage: Stage, proposal: Proposal, chosen: readonly Candidate[], editor: ProgramEditor): Proved {
    const { edited, expected, mirrored } = proposal.change(chosen, editor);
    if ('refused' in edited) return { why: `${edited.refused} (line ${edited.line})` };
    if (edited.edits.length === 0) return { why: 'there is nothing to change' };
    const { job, facts, result } = stage.state;
    const original = this.#input.job;
    const toolpath = stage.toolpath.edited(edited.edits);
    const changed: FoundJob = { ...job, toolpath: toolpath.source(original.toolpath!) };
    const changes = [{ file: original.toolpath!.name, edits: edited.edits }];
    let { sidecar } = stage;
    if (mirrored.length > 0 && sidecar !== null) {
      const edits = sidecarEdits(job.sidecarSource!, mirrored);
      if (edits === null)
        return { why: 'the sidecar’s planned settings are not written out as numbers with their units' };
      sidecar = sidecar.edited(edits);
      changed.sidecarSource = sidecar.source(original.sidecarSource!);
      changed.sidecar = readSidecar(changed.sidecarSource);
      changes.push({ file: original.sidecarSource!.name, edits });
    }
    const state = this.#judged(changed);
    if (state.facts.toolpath === null) return { why: 'the changed program can no longer be read' };
    const why = otherMotion(facts.toolpath!, state.facts.toolpath, expected) ?? worse(result, state.result);
    if (why !== null) return { why };
    const history = stage.history.after(edited.edits);
    return { next: { state, toolpath, sidecar, history }, edits: changes };
  }

  #judged(job: FoundJob): JudgedState {
    const { library, options, budget, readers, judge } = this.#input;
    const facts = buildFacts({ ...resolveJob(job, library, options), budget, today: options.today, readers });
    return { job, facts, result: judge(job) };
  }
}
