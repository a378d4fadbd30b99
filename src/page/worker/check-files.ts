import { withLeftOut } from '../../findings/left-out.ts';
import { discoverJobs } from '../../job/files/discovery.ts';
import { excludedBy } from '../../job/files/exclude.ts';
import type { FoundJob } from '../../job/files/job-opener.ts';
import { type LeftOut, type PassedBy, UNCHECKED, weighed } from '../../job/files/left-out.ts';
import { createLibrary, type Library } from '../../job/files/library.ts';
import { JOB_SUFFIX, MACHINE_SUFFIX } from '../../job/files/paths.ts';
import { collectCatalogue, collectShop } from '../../job/files/shop.ts';
import { verdictText } from '../../job/material/names/hint-text.ts';
import type { Meant } from '../../job/material/names/meant.ts';
import type { Settings } from '../../job/settings/settings.ts';
import { formatsInWords } from '../../model/reader-choice.ts';
import {
  type DrawnRun,
  type JudgingInput,
  loadReaders,
  preflightDrawn,
  readersNeeded,
  ruleProblems,
} from '../../preflight.ts';
import { READERS } from '../../readers.ts';
import { textSource } from '../../source/source.ts';
import { parseThickness } from '../../units/compound-quantities.ts';
import { inARow } from '../../units/in-a-row.ts';
import { type Files, memoryFiles } from './memory-files.ts';
import type { FieldName, FormValues, Refusal } from './messages.ts';
import { type Readings, remembering } from './remembering-readers.ts';

export interface CheckRequest {
  files: Files;
  /** What ships with kerflint, by path below `data`. */
  catalogue: Files;
  filled: FormValues;
  /** A machine profile made from the form; null when the files bring their own. */
  profile: { id: string; text: string } | null;
  today: string;
  toolVersion: string;
  /** What was read before of these very files; it is added to. */
  readings: Readings;
  onProgress: (file: string, bytes: number, size: number) => void;
}

/** Jobs that were found among the files, and all that they are judged by. */
export interface Gathered {
  jobs: readonly FoundJob[];
  judging: JudgingInput;
  leftOut: readonly LeftOut[];
  passedBy: PassedBy;
  toolVersion: string;
}

/** What a check of these files rests on, or why there is none. */
export type Gathering = { gathered: Gathered; refused: null } | { gathered: null; refused: Refusal };

/** Machines and materials: the catalogue's, those among the files that count, and the one that was described on the page. */
export function libraryOf(
  { files, catalogue, profile }: Pick<CheckRequest, 'files' | 'catalogue' | 'profile'>,
  wholeFolder: boolean,
): { library: Library; settings: Settings | null; problem: Refusal | null } {
  const shop = collectShop(memoryFiles(files), wholeFolder);
  const made = profile === null ? [] : [textSource(`${profile.id}${MACHINE_SUFFIX}`, profile.text)];
  const library = createLibrary({
    catalogue: collectCatalogue(memoryFiles(catalogue, 'kerflint/data/')).sources,
    shop: [...shop.sources, ...made],
    untrusted: false,
  });
  const [problem] = [...shop.problems, ...ruleProblems(shop.settings), ...library.shopProblems()];
  if (problem === undefined) return { library, settings: shop.settings, problem: null };
  const { file, line, column } = problem.place;
  const text = `${file}:${line}:${column}: ${problem.args['text'] ?? problem.code}.`;
  return { library, settings: shop.settings, problem: refusal('files', text) };
}

/**
 * What `kerflint check .` would check in the folder of these files. With the form filled in it is as with `--shop .`: whoever fills it
 * in trusts the machine profiles beside the files.
 */
export async function gather(request: CheckRequest): Promise<Gathering> {
  const { files, filled, today, toolVersion, readings, onProgress } = request;
  const bare = Object.keys(filled).length > 0;
  const { library, settings, problem } = libraryOf(request, bare);
  const refused = problem ?? thicknessRefused(filled.thickness) ?? materialRefused(filled.material, library);
  if (refused !== null) return { gathered: null, refused };
  const excluded = excludedBy(settings?.exclude ?? []);
  const { jobs, leftOut, passedBy, unmatched } = discoverJobs(memoryFiles(files), READERS, [''], bare, excluded);
  if (unmatched.length > 0) {
    const wanted = inARow([...formatsInWords(READERS), `a ${JOB_SUFFIX}`], 'or');
    return {
      gathered: null,
      refused: refusal('files', `There is nothing to check among these files: give ${wanted}.`),
    };
  }
  const readers = remembering(await loadReaders(READERS, readersNeeded(READERS, jobs)), readings);
  const options = { today, untrusted: false, ...filled };
  const judging = { library, settings, options, readers, keepsTrials: true, onProgress };
  return { gathered: { jobs: [...jobs], judging, leftOut, passedBy, toolVersion }, refused: null };
}

/** Judges what was gathered. */
export function judge({ jobs, judging, leftOut, passedBy, toolVersion }: Gathered): DrawnRun {
  const run = preflightDrawn({ ...judging, jobs, toolVersion });
  const unchecked = { ...UNCHECKED, ...judging.settings?.unchecked };
  return { ...run, result: withLeftOut(run.result, weighed(leftOut, unchecked), passedBy) };
}

export function refusal(field: FieldName, text: string, choices: Refusal['choices'] = []): Refusal {
  return { field, text, choices };
}

function thicknessRefused(typed: string | undefined): Refusal | null {
  const parsed = typed === undefined ? null : parseThickness(typed);
  return parsed === null || parsed.ok ? null : refusal('thickness', `${parsed.problem}. For instance 6 mm.`);
}

/** A name that no material has; that nobody knows it is an answer. */
function materialRefused(name: string | undefined, library: Library): Refusal | null {
  if (name === undefined || name.trim().toLowerCase() === 'unknown') return null;
  const { value, meant, problems } = library.material(name);
  if (value !== null || problems.length > 0) return null;
  return refusal('material', notKnownText(name.slice(0, 80), meant), meant?.choices ?? []);
}

/** Why a name is not enough; what may be meant stands below it, to choose from. */
function notKnownText(name: string, meant: Meant | null): string {
  const unknown = `"${name}" names no material that kerflint knows.`;
  if (meant === null) return `${unknown} Choose one from the list, or write "unknown".`;
  const { why, word, choices } = meant;
  if (why === 'kind') return `"${name}" does not say which ${word} it is. Choose:`;
  const [worst] = choices;
  if (why === 'like' || worst === undefined) return `${unknown} Did you mean:`;
  return `${unknown} It is like "${word}", and ${verdictText(worst)}: ${worst.hazard.reason}. Did you mean:`;
}
