import { resolve } from 'node:path';
import { NOTHING_BESIDES, withVerdicts } from '../../findings/run-tally.ts';
import type { FixId } from '../../fixes/fix.ts';
import { fixReport } from '../../fixes/fix-report.ts';
import { type Mended, type MendInput, mend, type SoloFix, soloFixes } from '../../fixes/mend.ts';
import { unifiedDiff } from '../../fixes/unified-diff.ts';
import type { FoundJob } from '../../job/files/job-opener.ts';
import { inspector, runStart } from '../../preflight.ts';
import { escapeTerminal } from '../../report/escape.ts';
import type { ReportedFix } from '../../report/report-context.ts';
import { rulesInForce } from '../../rules/in-force.ts';
import { rememberedSource } from '../../source/remembered.ts';
import { type Source, SourceUnreadable } from '../../source/source.ts';
import { escapeLines } from '../bench/bench-shop.ts';
import { type PreparedRun, prepareRun } from '../check/judge.ts';
import { EXIT } from '../exit-codes.ts';
import { formatOptions, type OutputSpec, writeOutputs } from '../files/outputs.ts';
import { packageVersion } from '../files/package-files.ts';
import { writeFile } from '../files/write-file.ts';
import { RULES } from '../registered-rules.ts';
import type { Io } from '../terminal/io.ts';
import { todayOption } from '../today-option.ts';
import { UsageError } from '../usage-error.ts';
import { type FixTarget, fixTarget } from './fix-target.ts';

/** The options of `fix` as typed. */
export interface FixOptions {
  out?: string;
  inPlace?: boolean;
  dryRun?: boolean;
  settings?: boolean;
  order?: boolean;
  format: string[];
  shop?: string;
  machine?: string;
  lens?: string;
  material?: string;
  thickness?: string;
  today?: string;
}

const FORMATS = ['text', 'sarif'] as const;
type Output = OutputSpec<(typeof FORMATS)[number]>;

/** Larger files are read anew each time, bytes. */
const REMEMBERED_BYTES = 64 * 2 ** 20;

/** The `fix` command: mends what can be proved, in a copy of the job. Gives the exit code. */
export async function runFix(path: string, options: FixOptions, io: Io): Promise<number> {
  const outputs = formatOptions(options.format, FORMATS, 'sarif=fixes.sarif');
  if (options.inPlace && options.out !== undefined)
    throw new UsageError('--in-place and --out exclude each other.', 'Give one of them.');
  const run = await prepared(path, options, io);
  const job = theJob(run, path);
  const target = fixTarget(job, run.root, { cwd: io.cwd, out: options.out ?? null, inPlace: options.inPlace ?? false });
  if (!options.dryRun) target.check();
  const input = mendInput(run, job, options);
  try {
    const mended = await mend(input);
    const solo = outputs.some(({ format }) => format === 'sarif') ? await soloFixes(input) : [];
    return await tell(mended, solo, { run, target, outputs, dryRun: options.dryRun ?? false, io });
  } catch (error) {
    if (!(error instanceof SourceUnreadable)) throw error;
    io.stderr.write(`kerflint: a file of the job ${escapeTerminal(error.message)}. Nothing was written.\n`);
    return EXIT.incomplete;
  }
}

function prepared(path: string, options: FixOptions, io: Io): Promise<PreparedRun> {
  const { machine, lens, material, thickness } = options;
  const bare = Object.fromEntries(
    Object.entries({ machine, lens, material, thickness }).filter(([, value]) => value !== undefined),
  );
  return prepareRun({
    cwd: io.cwd,
    paths: [path],
    shop: options.shop ?? null,
    untrusted: false,
    bare,
    today: todayOption(options.today),
    changed: null,
    shard: null,
    remember: true,
  });
}

/** @throws UsageError when the path does not name one job */
function theJob(run: PreparedRun, path: string): FoundJob {
  const [job, ...others] = run.jobs;
  if (job === undefined || others.length > 0) {
    throw new UsageError(
      `${escapeTerminal(path)} is not one job${job === undefined ? '' : ` but ${run.jobs.length}`}.`,
      'Name a sidecar: <name>.job.yaml.',
    );
  }
  // All that is said is about the same bytes.
  const once = <S extends Source | null>(source: S): S =>
    (source === null ? null : rememberedSource(source, REMEMBERED_BYTES)) as S;
  const { toolpath, artwork, sidecarSource } = job;
  return { ...job, toolpath: once(toolpath), artwork: once(artwork), sidecarSource: once(sidecarSource) };
}

function mendInput(run: PreparedRun, job: FoundJob, options: FixOptions): MendInput {
  const { library, settings, readers } = run.judging;
  const inspect = inspector(run.judging);
  const dwells = rulesInForce(RULES, settings?.rules ?? []).rules.find(({ rule }) => rule.id === 'toolpath/dwell-burn');
  const wanted: FixId[] = ['duplicate-passes', 'beam-off', 'air'];
  if (options.settings) wanted.push('settings');
  if (options.order) wanted.push('order');
  return {
    job,
    library,
    options: run.judging.options,
    budget: settings?.budget ?? null,
    readers,
    judge: (one) => inspect(one).result,
    pierceS: Number(dwells?.options['pierce']),
    wanted: new Set(wanted),
  };
}

interface Telling {
  run: PreparedRun;
  target: FixTarget;
  outputs: readonly Output[];
  dryRun: boolean;
  io: Io;
}

/** Writes the files first, so that nothing is told that was not done. */
async function tell(mended: Mended, solo: readonly SoloFix[], telling: Telling): Promise<number> {
  const { target, dryRun, outputs, io } = telling;
  const isIncomplete = mended.before.verdict === 'incomplete';
  const changes = mended.files.length > 0;
  if (changes && !dryRun) target.write(mended.files);
  const diffs = mended.files.map(({ original, pieces }) =>
    unifiedDiff(original, pieces.replacements(), [original.name, target.nameOf(original)]),
  );
  const outcome = outcomeText(mended, { isIncomplete, dryRun, where: target.where });
  const text = escapeLines(fixReport(mended, diffs.map(withoutCr), outcome));
  for (const { format, file } of outputs) {
    if (format !== 'text') continue;
    if (file === null) io.stdout.write(text);
    else writeFile(resolve(io.cwd, file), text);
  }
  await writeSarif(mended, solo, telling);
  if (isIncomplete) return EXIT.incomplete;
  return mended.after.findings.some(({ status }) => status === 'open') ? EXIT.findings : EXIT.fine;
}

function outcomeText(mended: Mended, about: { isIncomplete: boolean; dryRun: boolean; where: string }): string {
  if (about.isIncomplete) return 'incomplete, and not touched';
  if (mended.files.length === 0) return 'nothing is mended, and nothing was written';
  return about.dryRun ? `would be mended, into ${about.where}` : `mended, into ${about.where}`;
}

/** Lines end as they did; to a reader a CR ahead of the line break is noise. */
function withoutCr(diff: string): string {
  return diff.replaceAll('\r\n', '\n');
}

async function writeSarif({ before }: Mended, solo: readonly SoloFix[], { run, outputs, io }: Telling): Promise<void> {
  const specs = outputs.flatMap(({ format, file }) => (format === 'sarif' ? [{ format, file } as const] : []));
  if (specs.length === 0) return;
  const result = withVerdicts({ ...runStart(packageVersion()), jobs: [before], ...NOTHING_BESIDES });
  await writeOutputs(result, specs, {
    cwd: io.cwd,
    stdout: io.stdout,
    context: {
      rules: RULES,
      quiet: false,
      failLevel: { failOn: 'error', maxWarnings: null },
      rootInRepository: run.rootInRepository,
      docsUrl: null,
      fixes: byFinding(solo),
    },
    colour: false,
    links: 'refuse',
  });
}

function byFinding(solo: readonly SoloFix[]): ReadonlyMap<string, readonly ReportedFix[]> {
  const fixes = new Map<string, ReportedFix[]>();
  for (const { what, findings, changes } of solo) {
    const reported: ReportedFix = {
      what,
      changes: changes.map(({ file, edits }) => ({
        file,
        replacements: edits.map(({ place, new: bytes }) => ({ place, text: new TextDecoder().decode(bytes) })),
      })),
    };
    for (const { fingerprint } of findings) fixes.set(fingerprint, [...(fixes.get(fingerprint) ?? []), reported]);
  }
  return fixes;
}
