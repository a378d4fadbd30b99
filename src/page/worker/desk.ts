import { partnerOf, stemOf } from '../../bench/sidecar/partner.ts';
import { recipesFound } from '../../bench/sidecar/recipes-found.ts';
import { type RecipeAnswers, sidecarDraft } from '../../bench/sidecar/sidecar-draft.ts';
import { readDrawing, readProgram } from '../../bench/sidecar/sidecar-files.ts';
import type { RunResult } from '../../findings/result.ts';
import { NOTHING_BESIDES, withVerdicts } from '../../findings/run-tally.ts';
import type { FoundJob } from '../../job/files/job-opener.ts';
import { baseName, folderOf, JOB_SUFFIX } from '../../job/files/paths.ts';
import { loadReaders, readersNeeded, runStart } from '../../preflight.ts';
import { READERS } from '../../readers.ts';
import { json } from '../../report/data/json.ts';
import { html, reportBody } from '../../report/html/html.ts';
import { type ReportContext, type ReportScript, reportText } from '../../report/report-context.ts';
import { jobsWorstFirst } from '../../report/result-texts.ts';
import { rulesFor } from '../../rules/index.ts';
import type { Trial } from '../../trial.ts';
import { type CheckRequest, type Gathered, gather, judge, libraryOf } from './check-files.ts';
import { type Files, memoryFiles } from './memory-files.ts';
import type { Answer, AnsweredJob, Ask, AskedJob, GivenJob, MaterialEntry, Progress, RequestKind } from './messages.ts';
import { type Readings, remembering } from './remembering-readers.ts';

/** What the build writes into the page. */
export interface BuiltIn {
  version: string;
  script: ReportScript;
  /** What ships with kerflint: texts by their path below `data`. */
  catalogue: Record<string, string>;
}

type Tell = (progress: Progress) => void;

/** The last run, for whatever is asked about it. */
interface LastRun {
  given: GivenJob;
  answered: readonly AnsweredJob[];
  gathered: Gathered;
  result: RunResult;
  /** Parallel to its jobs. */
  trials: readonly (Trial | null)[];
  context: ReportContext;
}

/** Does the work of the page, away from it: it reads, judges and writes, and keeps what it read. */
export class Desk {
  readonly #built: BuiltIn;
  readonly #catalogue: Files;
  /** Bytes of the files by path, with what tells whether they are still the same. */
  readonly #bytes = new Map<string, { mark: string; bytes: Uint8Array }>();
  readonly #readings: Readings = new Map();
  #asked: readonly AskedJob[] = [];
  #last: LastRun | null = null;

  constructor(built: BuiltIn) {
    this.#built = built;
    const encoder = new TextEncoder();
    this.#catalogue = new Map(Object.entries(built.catalogue).map(([path, text]) => [path, encoder.encode(text)]));
  }

  async answer<K extends RequestKind>(kind: K, ask: Ask<K>, tell: Tell): Promise<Answer<K>> {
    const able: { [Each in RequestKind]: (ask: Ask<Each>, tell: Tell) => Promise<Answer<Each>> } = {
      materials: ({ files }) => this.#materials(files),
      read: (given) => this.#read(given, tell),
      judge: (given) => this.#judge(given, tell),
      save: async ({ as }) => this.#save(as),
      sidecar: ({ file }) => this.#sidecar(file),
      plan: async ({ job }) => this.#lastRun().trials[job]?.plan ?? null,
      try: async ({ job, change, shown }) => this.#trial(job).answer(change, shown),
      tryWhole: async ({ job, change }) => this.#trial(job).judged(change),
      saveTried: async ({ job, change }) => {
        const jobs = [this.#trial(job).result(change)];
        const run = withVerdicts({ ...runStart(this.#built.version), ...NOTHING_BESIDES, jobs });
        return reportText(json, run, this.#lastRun().context);
      },
    };
    return able[kind](ask, tell);
  }

  async #materials(files: GivenJob['files']): Promise<MaterialEntry[]> {
    const { library } = libraryOf(
      { files: await this.#opened(files), catalogue: this.#catalogue, profile: null },
      true,
    );
    return library.ids().materials.flatMap((id) => {
      const { value } = library.material(id);
      if (value === null) return [];
      const { name, aliases, kinds, hazard } = value;
      return [{ id, name, aliases: [...aliases, ...kinds], hazard: { class: hazard.class, reason: hazard.reason } }];
    });
  }

  async #read(given: GivenJob, tell: Tell): Promise<Answer<'read'>> {
    const { gathered, refused } = await this.#gather(given, await this.#opened(given.files), tell);
    if (refused !== null) return { refused };
    const { jobs, judging } = gathered;
    this.#asked = jobs.flatMap((job) => {
      if (job.sidecar !== null || job.toolpath === null) return [];
      const found = recipesFound(job, judging);
      return found.recipes.length === 0 ? [] : [{ file: job.name, ...found }];
    });
    return { refused: null, asked: [...this.#asked] };
  }

  async #judge({ answered, ...given }: Ask<'judge'>, tell: Tell): Promise<Answer<'judge'>> {
    const files = new Map(await this.#opened(given.files));
    const drafts = new Map<string, string>();
    for (const one of answered) {
      const { name, text } = await this.#draft(one.file, given, files, one);
      files.set(name, new TextEncoder().encode(text));
      drafts.set(name.slice(0, -JOB_SUFFIX.length), one.file);
    }
    const { gathered, refused } = await this.#gather(given, files, tell);
    if (refused !== null) return { refused };
    tell({ text: 'Working out what the beam does', share: null });
    const { result, drawings, trials } = judge(gathered);
    tell({ text: 'Writing the report', share: null });
    const context: ReportContext = {
      rules: rulesFor(READERS),
      width: 100,
      colour: false,
      quiet: false,
      failLevel: { failOn: 'error', maxWarnings: null },
      rootInRepository: '',
      docsUrl: null,
      today: given.today,
      pictures: new Map(result.jobs.flatMap(({ name }, i) => (drawings[i] ? [[name, drawings[i]]] : []))),
      script: this.#built.script,
    };
    this.#last = { given, answered, gathered, result, trials, context };
    const jobs = jobsWorstFirst(result.jobs).map((job, i) => ({
      section: `job-${i + 1}`,
      index: result.jobs.indexOf(job),
      result: job,
      draftFor: drafts.get(job.name) ?? (job.sidecar === null ? job.name : null),
    }));
    return { refused: null, body: reportBody(result, context), jobs };
  }

  #save(as: 'html' | 'json'): string {
    const { result, context } = this.#lastRun();
    return as === 'html' ? html(result, context) : reportText(json, result, context);
  }

  async #sidecar(file: string): Promise<Answer<'sidecar'>> {
    const { given, answered } = this.#lastRun();
    const files = await this.#opened(given.files);
    return this.#draft(file, given, files, answered.find((one) => one.file === file) ?? null);
  }

  #trial(job: number): Trial {
    const trial = this.#lastRun().trials[job];
    if (!trial) throw new Error('the job was not judged');
    return trial;
  }

  #lastRun(): LastRun {
    if (this.#last === null) throw new Error('nothing was judged yet');
    return this.#last;
  }

  /** The sidecar of a file, as `init` writes it; with answers, as they have it. */
  async #draft(file: string, given: GivenJob, files: Files, answered: AnsweredJob | null): Promise<Answer<'sidecar'>> {
    const access = memoryFiles(files);
    const { library } = libraryOf({ files, catalogue: this.#catalogue, profile: given.profile }, true);
    const folder = folderOf(file);
    const inFolder = (name: string) => (folder === '' ? name : `${folder}/${name}`);
    const stem = stemOf(baseName(file));
    const isArtwork = this.#lastKind(file) === 'artwork';
    const besides = (kind: 'toolpath' | 'artwork') =>
      partnerOf(stem, kind, READERS, (name) => files.has(inFolder(name)));
    const toolpathFile = isArtwork ? besides('toolpath') : baseName(file);
    const artworkFile = isArtwork ? baseName(file) : besides('artwork');
    const opened = (name: string | null) => (name === null ? null : access.open(inFolder(name)));
    // What is answered tells moves of the toolpath apart and no lines of the artwork.
    const artwork = answered === null ? opened(artworkFile) : null;
    const toolpath = opened(toolpathFile);
    const loaded = await loadReaders(READERS, readersNeeded(READERS, [{ toolpath, artwork }]));
    const readers = remembering(loaded, this.#readings);
    const { machine = null, lens, material = null, thickness = null } = given.filled;
    const profile = machine === null ? null : library.machine(machine).value;
    const text = sidecarDraft({
      toolpath: toolpath && {
        file: toolpathFile!,
        program: answered === null && profile ? readProgram(toolpath, readers, profile) : null,
      },
      artwork: artwork && { file: artworkFile!, drawing: readDrawing(artwork, readers, profile) },
      machine,
      lens: lens ?? profile?.lenses[0]?.id ?? null,
      material,
      thickness,
      answers: answered && this.#answers(answered),
      schemas: null,
    });
    const usual = inFolder(stem + JOB_SUFFIX);
    return { name: files.has(usual) ? file + JOB_SUFFIX : usual, text };
  }

  #lastKind(file: string): 'toolpath' | 'artwork' {
    const isIt = ({ artwork }: FoundJob) => artwork?.name === file;
    return this.#last?.gathered.jobs.some((job) => job.toolpath === null && isIt(job)) ? 'artwork' : 'toolpath';
  }

  #answers({ file, aims }: AnsweredJob): RecipeAnswers {
    const asked = this.#asked.find((one) => one.file === file);
    if (asked === undefined || asked.recipes.length !== aims.length) throw new Error(`${file} was not asked about`);
    return { of: asked.recipes.map((recipe, i) => ({ recipe, aim: aims[i]! })), areas: asked.areas > 0 };
  }

  async #gather(given: GivenJob, files: Files, tell: Tell) {
    const request: CheckRequest = {
      files,
      catalogue: this.#catalogue,
      filled: given.filled,
      profile: given.profile,
      today: given.today,
      toolVersion: this.#built.version,
      readings: this.#readings,
      onProgress: (file, bytes, size) => tell({ text: `Reading ${file}`, share: size > 0 ? bytes / size : null }),
    };
    return gather(request);
  }

  /** The bytes of the files; what was read of files that changed is forgotten. @throws UnreadableFile */
  async #opened(given: GivenJob['files']): Promise<Files> {
    const now = new Set(given.map(([path]) => path));
    for (const path of this.#bytes.keys()) if (!now.has(path)) this.#bytes.delete(path);
    for (const [path, file] of given) {
      const mark = `${file.size} ${file instanceof File ? file.lastModified : ''}`;
      if (this.#bytes.get(path)?.mark === mark) continue;
      this.#readings.clear();
      this.#bytes.set(path, { mark, bytes: await bytesOf(path, file) });
    }
    return new Map(given.map(([path]) => [path, this.#bytes.get(path)!.bytes]));
  }
}

async function bytesOf(path: string, file: Blob): Promise<Uint8Array> {
  try {
    return new Uint8Array(await file.arrayBuffer());
  } catch {
    throw new UnreadableFile(`${path} cannot be read any more: it was moved or changed. Give it again.`);
  }
}

/** A file that was given and is not there now. */
export class UnreadableFile extends Error {
  override readonly name = 'UnreadableFile';
}
