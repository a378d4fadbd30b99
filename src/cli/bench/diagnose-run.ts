import { diagnoseJob, EDGE, type Observation, SINCE, WHERE } from '../../bench/diagnosis/diagnose-job.ts';
import { diagnosisReport } from '../../bench/diagnosis/diagnosis-report.ts';
import { createLibrary } from '../../job/files/library.ts';
import { loadReaders, readersNeeded } from '../../preflight.ts';
import { READERS } from '../../readers.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { localDate } from '../../units/date.ts';
import { nearestWord } from '../../units/nearest-word.ts';
import { parseQuantity } from '../../units/quantity.ts';
import { gather, stopOnSettingProblems } from '../check/gather.ts';
import { Asker } from '../terminal/ask.ts';
import type { Io } from '../terminal/io.ts';
import { UsageError } from '../usage-error.ts';
import { escapeLines, quantityOption, stopOnFileProblems, valueOrStop } from './bench-shop.ts';

export interface DiagnoseOptions {
  task?: string;
  depth?: string;
  where?: string;
  kerf?: string;
  since?: string;
  edge?: string;
  shop?: string;
  json?: true;
}

/** The `diagnose` command: what was seen in, ranked causes out. What is left out is asked for on a terminal. */
export async function runDiagnose(path: string, options: DiagnoseOptions, io: Io): Promise<void> {
  const given: Observation = {
    depthMm: quantityOption('--depth', options.depth, 'length'),
    where: wordOption('--where', options.where, WHERE),
    kerfMm: quantityOption('--kerf', options.kerf, 'length'),
    since: wordOption('--since', options.since, SINCE),
    edge: wordOption('--edge', options.edge, EDGE),
  };
  const { discovery, catalogue, shop } = gather({
    cwd: io.cwd,
    paths: [path],
    shop: options.shop ?? null,
    untrusted: false,
    bareInFolders: false,
  });
  const [job, ...others] = discovery.jobs;
  if (job?.sidecar == null || others.length > 0) {
    throw new UsageError(
      `${escapeTerminal(path)} is not one job.`,
      'Name the sidecar of the job that failed: <name>.job.yaml.',
    );
  }
  stopOnFileProblems(job.sidecar.problems, 'Put the sidecar right first; "kerflint check" tells more.');
  const library = createLibrary({ catalogue: catalogue.sources, shop: shop.sources, untrusted: false });
  stopOnSettingProblems(library.shopProblems());
  const seen = await completed(given, io);
  const diagnosis = valueOrStop(
    diagnoseJob({
      job,
      readers: await loadReaders(READERS, readersNeeded(READERS, [job])),
      library,
      options: { untrusted: false },
      today: localDate(new Date()),
      task: options.task ?? null,
      seen,
    }),
    'See "kerflint check" for the job itself, and "kerflint diagnose --help" for what can be told.',
  );
  const { isTTY, columns, rows } = io.stdout;
  const screen = { columns: (isTTY && columns) || 80, rows: (isTTY && rows) || 24 };
  io.stdout.write(
    options.json ? `${JSON.stringify(diagnosis, null, 2)}\n` : escapeLines(diagnosisReport(diagnosis, screen)),
  );
}

/** Asks for what the options leave out; an empty answer leaves it open. */
async function completed(seen: Observation, io: Io): Promise<Observation> {
  const asker = new Asker(io);
  if (!asker.possible) return seen;
  io.stderr.write('What did you see? An empty answer leaves it open.\n');
  const word =
    <T extends string>(words: readonly T[]) =>
    (answer: string) => {
      const taken = words.find((one) => one === answer);
      return taken === undefined ? { problem: `Answer ${words.join(', ')}.` } : { value: taken };
    };
  const lengthMm = (answer: string) => {
    const parsed = parseQuantity(answer, 'length');
    return parsed.ok ? { value: parsed.value } : { problem: `${escapeTerminal(parsed.problem)}.` };
  };
  const full: Observation = {
    depthMm: seen.depthMm ?? (await asker.ask('How deep did it get (such as 3.1 mm)?', lengthMm)),
    where: seen.where ?? (await asker.ask(`Where did it fail (${WHERE.join(', ')})?`, word(WHERE))),
    kerfMm: seen.kerfMm ?? (await asker.ask('How wide is the kerf at the top (such as 0.3 mm)?', lengthMm)),
    since: seen.since ?? (await asker.ask(`Since when (${SINCE.join(', ')})?`, word(SINCE))),
    edge: seen.edge ?? (await asker.ask(`How is the edge (${EDGE.join(', ')})?`, word(EDGE))),
  };
  await asker.close();
  return full;
}

function wordOption<T extends string>(option: string, typed: string | undefined, words: readonly T[]): T | null {
  if (typed === undefined) return null;
  const taken = words.find((word) => word === typed);
  if (taken !== undefined) return taken;
  const near = nearestWord(typed, words);
  throw new UsageError(
    `${option} "${escapeTerminal(typed)}" is not known${near === undefined ? '' : ` (did you mean ${near}?)`}.`,
    `Known are ${words.join(', ')}.`,
  );
}
