import { existsSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import type { RunResult } from '../findings/result.ts';
import { summarise } from '../findings/verdict.ts';
import { createLibrary } from '../job/library.ts';
import { preflight } from '../preflight.ts';
import { terminal } from '../report/escape.ts';
import { parseThickness } from '../units/bench-values.ts';
import type { CheckOptions } from './check-options.ts';
import { type GatherRequest, gather, settled } from './gather.ts';
import { packageVersion } from './package-files.ts';
import { UsageError } from './usage-error.ts';

/** What `check` judges: everything of its options that has a bearing on the result. */
export interface JudgeRequest extends Omit<GatherRequest, 'bareInFolders'> {
  bare: CheckOptions['bare'];
  today: string;
}

export interface Judged {
  result: RunResult;
  /** Path from the top of the repository to the run's root, with a `/` at the end; empty when they are one. */
  rootInRepository: string;
}

/**
 * Finds the jobs behind the paths and judges them.
 * @throws UsageError when the request itself is wrong: then nothing was judged
 */
export function judge(request: JudgeRequest): Judged {
  const { bare } = request;
  if (bare.thickness !== undefined) {
    const parsed = parseThickness(bare.thickness);
    if (!parsed.ok)
      throw new UsageError(`--thickness: ${terminal(parsed.problem)}.`, 'For instance --thickness "6 mm".');
  }
  const gathered = gather({ ...request, bareInFolders: Object.keys(bare).length > 0 });
  const library = createLibrary({
    catalogue: gathered.catalogue.sources,
    shop: gathered.shop.sources,
    untrusted: request.untrusted,
  });
  settled(library.shopProblems());
  const { jobs, unclaimed } = gathered.discovery;
  const result = preflight({
    jobs,
    library,
    settings: gathered.shop.settings,
    options: { today: request.today, untrusted: request.untrusted, ...bare },
    toolVersion: packageVersion(),
  });
  const reason = 'no sidecar names it, and no --machine, --material and --thickness say what it is';
  const notCheckedFiles = [...result.notCheckedFiles, ...unclaimed.map(({ path }) => ({ file: path, reason }))];
  return {
    result: { ...result, notCheckedFiles, summary: summarise(result.jobs, notCheckedFiles) },
    rootInRepository: pathInRepository(gathered.root),
  };
}

/** A `.kerflint.yaml` can make a root further down than the repository's, where paths of annotations begin. */
function pathInRepository(root: string): string {
  for (let folder = root; ; folder = dirname(folder)) {
    if (existsSync(join(folder, '.git'))) {
      const path = relative(folder, root).split(sep).join('/');
      return path === '' ? '' : `${path}/`;
    }
    if (folder === dirname(folder)) return '';
  }
}
