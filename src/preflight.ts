import { jobReach, type KnownReach, reachGoal } from './facts/bench/job-reach.ts';
import { factsOf, readJob } from './facts/build.ts';
import type { CuredJob } from './facts/cure/cure-fact.ts';
import { drawingOf, pointsPerJob } from './facts/drawing/drawing.ts';
import type { JobPictures } from './facts/drawing/drawing-model.ts';
import type { JobFacts } from './facts/facts.ts';
import { inlineWaivers } from './facts/input/inline-waivers.ts';
import { type LoadedReaders, readableFiles } from './facts/input/loaded-readers.ts';
import { resolveJob } from './facts/input/resolve.ts';
import type { WaiverFact } from './facts/input/waiver-fact.ts';
import { resultView, wasteView } from './facts/result-view.ts';
import { reasonsEndedEarly } from './facts/searches.ts';
import { eachOnce, type Unanswered } from './facts/unanswered/unanswered.ts';
import { expectedWaste } from './facts/waste/waste.ts';
import { contextLines } from './findings/context-lines.ts';
import type { Finding, NotChecked } from './findings/finding.ts';
import { OncePerRun } from './findings/joining.ts';
import { gatherLines } from './findings/lines.ts';
import { createReporter, DescriptorError, locationsOf } from './findings/reporter.ts';
import type { JobResult, RunEnd, RunResult, RunStart } from './findings/result.ts';
import { NOTHING_BESIDES, RunTally, wholeRun } from './findings/run-tally.ts';
import { sortAndDedupe } from './findings/sorting.ts';
import { withVerdict } from './findings/verdict.ts';
import { type AppliedWaiver, type StatedWaiver, waive } from './findings/waiving.ts';
import type { FoundJob } from './job/files/job-opener.ts';
import type { Library } from './job/files/library.ts';
import type { FileProblem } from './job/files/problem.ts';
import type { Settings } from './job/settings/settings.ts';
import { cureThatHolds } from './rules/cure-that-holds.ts';
import { descriptorsOf } from './rules/descriptors.ts';
import { type RuleInForce, rulesInForce } from './rules/in-force.ts';
import { findRule, rulesFor } from './rules/index.ts';
import type { Phase } from './rules/rule.ts';
import type { Location } from './source/place.ts';
import type { Source } from './source/source.ts';
import { Trial } from './trial.ts';

export { type LoadedReaders, loadReaders, readersNeeded } from './facts/input/loaded-readers.ts';

/** What the jobs of a run are judged by; everything in it is named and already opened, nothing is looked up elsewhere. */
export interface JudgingInput {
  library: Library;
  /** The trusted `.kerflint.yaml`, when there is one. */
  settings: Settings | null;
  options: {
    /** ISO date of the run. */
    today: string;
    untrusted: boolean;
    /** For bare files. */
    machine?: string;
    lens?: string;
    material?: string;
    /** As typed: `6 mm`, `nominal 6 mm`. */
    thickness?: string;
  };
  /** All readers, with those loaded that the files of the jobs need (`readersNeeded`). */
  readers: LoadedReaders;
  /** Keep what other settings can be tried with: a `trial` of each job. */
  keepsTrials?: boolean;
  onProgress?: (file: string, bytes: number, size: number) => void;
}

/** What a run is about. */
export interface PreflightInput extends JudgingInput {
  /** In the order of the run; each is opened when it is its turn. */
  jobs: Iterable<FoundJob>;
  toolVersion: string;
  /** How many jobs share the bound on the size of the run's pictures; absent or null where none are drawn. */
  drawn?: number | null;
}

/** What came of one job. */
export interface JudgedJob {
  result: JobResult;
  /** What its picture is drawn from; null when none was asked for, or the job could not be drawn. */
  drawing: JobPictures | null;
  /** Tries other settings; null when that was not asked for, or kerflint failed on the job. */
  trial: Trial | null;
}

/** Judges one job as if it were alone. Never throws: a job that fails inside kerflint becomes incomplete. */
export type Inspect = (job: FoundJob) => JudgedJob;

/**
 * The whole street: jobs in, results out, one after the other, and last what is told of the run as a whole; no job is kept. Pure: the same
 * input gives the same results. A job that fails inside kerflint becomes incomplete and leaves the others alone.
 */
export function* preflight(input: PreflightInput): Generator<JudgedJob, RunEnd> {
  const inspect = inspector(input, input.drawn ?? null);
  const once = new OncePerRun(rulesOncePerRun);
  const tally = new RunTally();
  for (const job of input.jobs) {
    const judged = inspect(job);
    yield { ...judged, result: tally.take(once.thinned(judged.result)) };
  }
  return tally.end(runStart(input.toolVersion), NOTHING_BESIDES);
}

/** What is known of a run before its first job. */
export function runStart(toolVersion: string): RunStart {
  return { schemaVersion: 1, tool: { name: 'kerflint', version: toolVersion } };
}

/** What the settings say of rules that there are not, or options that no rule has. */
export function ruleProblems(settings: Settings | null): FileProblem[] {
  if (settings === null) return [];
  return rulesInForce(ALL_RULES, settings.rules).problems.map(({ path, text }) => {
    const place = settings.placeOf(['rules', ...path], 'key');
    return { code: 'wrong-value', place, args: { text } };
  });
}

/** A run with what its pictures are drawn from. */
export interface DrawnRun {
  result: RunResult;
  /** One for each job of the result, in its order; null where the job could not be drawn. */
  drawings: (JobPictures | null)[];
  /** Likewise; null where no trials were asked for. */
  trials: (Trial | null)[];
}

/** The whole street as one result, held whole, for a few jobs. */
export function preflightWhole(input: PreflightInput): DrawnRun {
  const jobs: JobResult[] = [];
  const drawings: DrawnRun['drawings'] = [];
  const trials: DrawnRun['trials'] = [];
  const run = preflight(input);
  for (let step = run.next(); ; step = run.next()) {
    if (step.done) return { result: wholeRun(jobs, step.value), drawings, trials };
    jobs.push(step.value.result);
    drawings.push(step.value.drawing);
    trials.push(step.value.trial);
  }
}

/** The same with the drawings of the jobs. */
export function preflightDrawn(input: PreflightInput & { jobs: Iterable<FoundJob> & { length: number } }): DrawnRun {
  return preflightWhole({ ...input, drawn: input.jobs.length });
}

/**
 * For runs that are divided: judges their jobs one by one. Those of a whole run share one bound on the size of its pictures: `drawn`
 * tells how many they are; null draws none.
 */
export function inspector(input: JudgingInput, drawn: number | null = null): Inspect {
  const inspecting = new Inspector(input, drawn === null ? null : new Artist(pointsPerJob(drawn), input));
  return (job) => inspecting.inspect(job);
}

/** What a picture shows: a job, what was found in it, and the change that would bring its cuts through. */
interface Drawable {
  facts: JobFacts;
  findings: readonly Finding[];
  cured: CuredJob | null;
  /** Nothing is proposed for a job that is not judged, or that fails with what would be proposed. */
  proposes: boolean;
}

/** Draws job after job; a picture that fails costs the picture and nothing else. */
class Artist {
  readonly #points: number;
  readonly #input: JudgingInput;
  readonly #reach: KnownReach = new Map();

  constructor(points: number, input: JudgingInput) {
    this.#points = points;
    this.#input = input;
  }

  draw(job: FoundJob, { facts, findings, ...proposed }: Drawable): JobPictures | null {
    try {
      const reach = jobReach(facts, this.#reach, this.#input.library.citedCuts);
      const goTo = reachGoal(facts, proposed.cured, this.#reach);
      const drawing = drawingOf(facts, { findings, points: this.#points, reach, goTo, ...proposed });
      return { drawing, around: contextLines(sourcesOf(job, this.#input.readers), findings) };
    } catch {
      return null;
    }
  }
}

/**
 * Judges each job as if it were alone, by the rules in force: so the result is the same however a run is divided. What is said once a
 * run is thinned out afterwards.
 */
class Inspector {
  readonly #input: JudgingInput;
  readonly #artist: Artist | null;
  readonly #rules: RuleInForce[];

  constructor(input: JudgingInput, artist: Artist | null) {
    this.#input = input;
    this.#artist = artist;
    this.#rules = rulesInForce(rulesFor(input.readers.all), input.settings?.rules ?? []).rules;
  }

  /** A fault of kerflint in one job must not lose the others' results. */
  inspect(job: FoundJob): JudgedJob {
    try {
      return this.#inspect(job);
    } catch (error) {
      return {
        result: faulted(job, error instanceof Error ? error.message : String(error)),
        drawing: null,
        trial: null,
      };
    }
  }

  #inspect(job: FoundJob): JudgedJob {
    const { library, options, settings, readers, keepsTrials, onProgress } = this.#input;
    const read = readJob({
      ...resolveJob(job, library, options),
      budget: settings?.budget ?? null,
      today: options.today,
      readers,
      keepsMotion: keepsTrials ?? false,
      ...(onProgress ? { onProgress } : {}),
    });
    const facts = factsOf(read);
    const { result, allLost, cured } = this.#resultOf(job, facts);
    const proposes = cured !== null || result.verdict === 'pass';
    const drawing = this.#artist?.draw(job, { facts, findings: result.findings, cured, proposes }) ?? null;
    const judge = (turned: JobFacts) => this.#resultOf(job, turned).result;
    const trial = keepsTrials ? new Trial({ job, read, facts, result, cured, allLost, library, judge }) : null;
    return { result, drawing, trial };
  }

  /** What the rules make of the facts, whether an error that no chance counts lets all at stake be lost, and the change that would bring it through. */
  #resultOf(job: FoundJob, facts: JobFacts): { result: JobResult; allLost: boolean; cured: CuredJob | null } {
    const { options } = this.#input;
    const notChecked: NotChecked[] = [];
    const stated = options.untrusted ? [] : statedWaivers(job, this.#input.readers);
    const waived = (findings: Finding[]) => waive(sortAndDedupe(findings), stated, options.today, safetyRules);
    // What is expected to be lost rests on the errors that stand, and what is said of waivers on all that they cover.
    const ofJob = this.#judge(job, facts, 'job', notChecked);
    const allLost = waived(ofJob).findings.some(stopsTheJob);
    const waste = expectedWaste(facts.waste, allLost);
    const ofWaste = this.#judge(job, { ...facts, waste }, 'waste', notChecked);
    const { findings: marked, held } = waived([...ofJob, ...ofWaste]);
    const waivers = held.length === 0 ? {} : { waivers: held.map(waiverFact) };
    const ofWaivers = this.#judge(job, { ...facts, ...waivers }, 'waiver', notChecked);
    const findings = sortAndDedupe([...marked, ...ofWaivers]);
    const unanswered = unansweredBy(facts);
    const incomplete = unanswered.map(({ missing }) => missing);
    const answered = incomplete.length === 0 && !notChecked.some(({ kind }) => kind === 'failed');
    const cure = cureThatHolds(facts, { answered, findings, rules: this.#rules });
    const result = withVerdict({
      ...resultView(facts, cure),
      waste: wasteView(waste),
      findings,
      notChecked,
      incomplete,
      unanswered,
    });
    return { result, allLost, cured: cure?.job ?? null };
  }

  /** Runs the rules of a phase over the facts and makes findings of what they report. */
  #judge(job: FoundJob, facts: JobFacts, phase: Phase, notChecked: NotChecked[]): Finding[] {
    const inForce = this.#rules.filter(({ rule }) => (rule.phase ?? 'job') === phase);
    const reported = descriptorsOf(facts, inForce, notChecked);
    const locations = reported.flatMap(({ descriptor }) => locationsOf(descriptor));
    const lines = gatherLines(
      withShopFiles(sourcesOf(job, this.#input.readers), locations, this.#input.library),
      locations,
    );
    // A reporter for each job: a finding is known by the same fingerprint whichever other jobs are in the run.
    const reporter = createReporter(lines);
    const findings: Finding[] = [];
    for (const { rule, severity, descriptor } of reported) {
      try {
        findings.push(reporter.report(rule, descriptor, severity ?? undefined));
      } catch (error) {
        if (!(error instanceof DescriptorError)) throw error;
        notChecked.push({ rule: rule.id, kind: 'failed', reason: error.message });
      }
    }
    return findings;
  }
}

/** The job as incomplete, for a fault that is not the user's. */
function faulted(job: FoundJob, fault: string): JobResult {
  const missing = `kerflint failed on this job (${fault}); this is a fault of kerflint: please report it`;
  return withVerdict({
    name: job.name,
    sidecar: job.sidecarSource?.name ?? null,
    machine: null,
    lens: null,
    material: null,
    thicknessMm: null,
    files: {
      ...(job.toolpath ? { toolpath: job.toolpath.name } : {}),
      ...(job.artwork ? { artwork: job.artwork.name } : {}),
    },
    tasks: [],
    cuts: [],
    time: null,
    waste: null,
    findings: [],
    notChecked: [],
    incomplete: [missing],
    unanswered: [
      { fact: 'kerflint', what: 'anything about the job', missing, remedy: 'Report it, with the files if you can.' },
    ],
  });
}

/** Waivers of the sidecar first, then those in the comments of its files. */
function statedWaivers(job: FoundJob, readers: LoadedReaders): StatedWaiver[] {
  const ofSidecar = (job.sidecar?.value?.waivers ?? []).map((waiver) => ({ ...waiver, scope: 'job' as const }));
  const inline = readableFiles(readers.all, job).flatMap(inlineWaivers);
  return [...ofSidecar, ...inline.map((waiver) => ({ ...waiver, until: null }))];
}

function waiverFact({ waiver, counts, covered }: AppliedWaiver): WaiverFact {
  const found = findRule(ALL_RULES, waiver.rule);
  const known = found.kind === 'rule' && found.rule.id === waiver.rule;
  const successor = found.kind === 'retired' ? (found.successor?.id ?? null) : null;
  return {
    rule: waiver.rule,
    known,
    suggestion: found.kind === 'unknown' ? (found.suggestions[0] ?? null) : successor,
    safety: safetyRules.has(waiver.rule),
    where: waiver.scope === 'job' ? 'sidecar' : 'inline',
    reason: waiver.reason,
    until: waiver.until,
    location: waiver.location,
    counts: counts && known,
    covered,
  };
}

/** An error that the probability of the cuts does not count: then all that is at stake is expected to be lost. */
function stopsTheJob(finding: Finding): boolean {
  return finding.status === 'open' && finding.severity === 'error' && !lossByProbability.has(finding.rule);
}

/** For what is the same whatever the readers: ids, options and traits. Readers add messages. */
const ALL_RULES = rulesFor([]);
/** Rules of which one note a run is enough. */
export const rulesOncePerRun: ReadonlySet<string> = new Set(
  ALL_RULES.filter((rule) => rule.oncePerRun).map((rule) => rule.id),
);
const safetyRules = new Set(ALL_RULES.filter((rule) => rule.safety).map((rule) => rule.id));
const lossByProbability = new Set(ALL_RULES.filter((rule) => rule.lossByProbability).map((rule) => rule.id));

/** Why this job cannot read as checked, besides rules that failed: facts that are missing, and searches that ended early. */
function unansweredBy(facts: JobFacts): Unanswered[] {
  const deciding = ALL_RULES.filter(({ decides }) => decides !== undefined);
  const searched = deciding.flatMap(({ searches }) => reasonsEndedEarly(facts, searches ?? []));
  return eachOnce([
    ...facts.unanswered,
    ...searched.map(
      (missing): Unanswered => ({
        fact: 'search',
        what: 'what was not looked at any more',
        missing,
        remedy: 'Divide the job into smaller ones, or simplify its files.',
      }),
    ),
  ]);
}

/** The files of a job as texts in UTF-8, by name. */
function sourcesOf(job: FoundJob, readers: LoadedReaders): Map<string, Source> {
  const read = readableFiles(readers.all, job).map(({ source, reader }) => reader.asUtf8(source));
  const all = [job.sidecarSource, ...read, ...job.beside];
  return new Map(all.flatMap((source) => (source ? [[source.name, source] as const] : [])));
}

/** Adds the files of the shop and the catalogue in which something is pointed out, such as coupons in a material's own file. */
function withShopFiles(
  sources: Map<string, Source>,
  locations: readonly Location[],
  library: Library,
): Map<string, Source> {
  for (const { file } of locations) {
    const source = sources.has(file) ? null : library.sourceOf(file);
    if (source !== null) sources.set(file, source);
  }
  return sources;
}
