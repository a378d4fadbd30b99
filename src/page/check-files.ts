import { withLeftOut } from '../findings/left-out.ts';
import { discoverJobs } from '../job/files/discovery.ts';
import { excludedBy } from '../job/files/exclude.ts';
import { UNCHECKED, weighed } from '../job/files/left-out.ts';
import { createLibrary } from '../job/files/library.ts';
import { JOB_SUFFIX } from '../job/files/paths.ts';
import { collectCatalogue, collectShop } from '../job/files/shop.ts';
import { formatsInWords } from '../model/reader-choice.ts';
import { type DrawnRun, loadReaders, preflightDrawn, readersNeeded, ruleProblems } from '../preflight.ts';
import { READERS } from '../readers.ts';
import { textSource } from '../source/source.ts';
import { parseThickness } from '../units/compound-quantities.ts';
import { inARow } from '../units/in-a-row.ts';
import { type Files, memoryFiles } from './memory-files.ts';

/** What is filled in for bare files; empty fields are left out. */
export interface FormValues {
  machine?: string;
  lens?: string;
  material?: string;
  thickness?: string;
}

export interface CheckRequest {
  files: Files;
  /** What ships with kerflint, by path below `data`. */
  catalogue: Files;
  filled: FormValues;
  /** A machine profile made from the form; null when the files bring their own. */
  machineText: string | null;
  today: string;
  toolVersion: string;
}

/** A run, or a sentence that says why there is none. */
export type Checked = { run: DrawnRun; problem: null } | { run: null; problem: string };

/**
 * What `kerflint check .` would do in the folder of these files. With the form filled in it is as with `--shop .`: whoever
 * fills it in trusts the machine profiles beside the files.
 */
export async function checkFiles(request: CheckRequest): Promise<Checked> {
  const { files, filled, machineText, today, toolVersion } = request;
  const bare = Object.keys(filled).length > 0;
  if (filled.thickness !== undefined) {
    const parsed = parseThickness(filled.thickness);
    if (!parsed.ok) return refused(`Thickness: ${parsed.problem}. For instance 6 mm.`);
  }
  const access = memoryFiles(files);
  const catalogue = collectCatalogue(memoryFiles(request.catalogue, 'kerflint/data/'));
  const shop = collectShop(access, bare);
  const made = machineText === null ? [] : [textSource('as-filled-in.machine.yaml', machineText)];
  const library = createLibrary({
    catalogue: catalogue.sources,
    shop: [...shop.sources, ...made],
    untrusted: false,
  });
  const [problem] = [...shop.problems, ...ruleProblems(shop.settings), ...library.shopProblems()];
  if (problem) {
    const { file, line, column } = problem.place;
    return refused(`${file}:${line}:${column}: ${problem.args['text'] ?? problem.code}.`);
  }
  const excluded = excludedBy(shop.settings?.exclude ?? []);
  const { jobs, leftOut, passedBy, unmatched } = discoverJobs(access, READERS, [''], bare, excluded);
  if (unmatched.length > 0) {
    return refused(
      `There is nothing to check among these files: give ${inARow([...formatsInWords(READERS), `a ${JOB_SUFFIX}`], 'or')}.`,
    );
  }
  const options = { today, untrusted: false, ...filled };
  const readers = await loadReaders(READERS, readersNeeded(READERS, jobs));
  const run = preflightDrawn({ jobs, library, settings: shop.settings, options, toolVersion, readers });
  const unchecked = { ...UNCHECKED, ...shop.settings?.unchecked };
  return {
    run: { ...run, result: withLeftOut(run.result, weighed(leftOut, unchecked), passedBy) },
    problem: null,
  };
}

function refused(problem: string): Checked {
  return { run: null, problem };
}
