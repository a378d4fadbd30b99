import { existsSync, lstatSync, readFileSync, realpathSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { escapeTerminal } from '../../report/escape.ts';
import { isWithin } from '../files/files.ts';
import { UsageError } from '../usage-error.ts';

/**
 * Refuses a shop that comes with the jobs it is to judge: whoever sends jobs could send its machines too. It counts as such when it lies
 * in the checkout of the jobs, in a submodule of that, in the repository of which the jobs' checkout is a submodule, or around it.
 * @throws UsageError when it does
 */
export function refuseShopAmongJobs(shop: string, { cwd, root }: { cwd: string; root: string }): void {
  const folder = realpathSync.native(resolve(cwd, shop));
  const checkout = checkoutAround(realpathSync.native(root));
  const where = isWithin(folder, checkout) ? 'lies in' : isWithin(checkout, folder) ? 'holds' : null;
  if (where === null) return;
  throw new UsageError(
    `--shop ${escapeTerminal(shop)} ${where} the checkout of the jobs that are not trusted (${escapeTerminal(checkout)}): whoever sends jobs could change it along with them.`,
    'Check the shop out into a folder beside the jobs. If nobody but you can change it where it is, say --shop-in-checkout.',
  );
}

/**
 * The whole of what is checked out around a folder: a submodule's commit is chosen by the repository that holds it, so that one counts
 * too. Free of links, as the folder is.
 */
function checkoutAround(root: string): string {
  let checkout = root;
  while (isSubmodule(checkout)) {
    const above = repositoryAbove(checkout);
    if (above === null) break;
    checkout = above;
  }
  return checkout;
}

/** Source: gitrepository-layout(5), "gitfile" and `modules`: a submodule's `.git` is a file that names a folder below `modules`. */
function isSubmodule(folder: string): boolean {
  const path = join(folder, '.git');
  if (!lstatSync(path, { throwIfNoEntry: false })?.isFile()) return false;
  try {
    return /^gitdir:.*[\\/]modules[\\/]/.test(readFileSync(path, 'utf8'));
  } catch {
    // Nobody knows what it is: then it may be one.
    return true;
  }
}

function repositoryAbove(folder: string): string | null {
  for (let here = dirname(folder), below = folder; here !== below; below = here, here = dirname(here))
    if (existsSync(join(here, '.git'))) return here;
  return null;
}
