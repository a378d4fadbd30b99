import { readFileSync } from 'node:fs';

type Env = Readonly<Record<string, string | undefined>>;

/**
 * Whether what was checked out may come from a stranger: a pull request from another repository, or a run that one of those
 * triggered. When the runner's account of the event cannot be read, a pull request counts as a stranger's.
 */
export function comesFromFork(env: Env): boolean {
  const name = env['GITHUB_EVENT_NAME'] ?? '';
  if (!name.startsWith('pull_request') && name !== 'workflow_run') return false;
  const home = env['GITHUB_REPOSITORY'];
  const head =
    name === 'workflow_run'
      ? path(eventOf(env), 'workflow_run', 'head_repository', 'full_name')
      : path(eventOf(env), 'pull_request', 'head', 'repo', 'full_name');
  return typeof head !== 'string' || head !== home;
}

function eventOf(env: Env): unknown {
  try {
    return JSON.parse(readFileSync(env['GITHUB_EVENT_PATH'] ?? '', 'utf8'));
  } catch {
    return null;
  }
}

function path(value: unknown, ...names: string[]): unknown {
  let here = value;
  for (const name of names) {
    if (typeof here !== 'object' || here === null || !Object.hasOwn(here, name)) return undefined;
    here = (here as Record<string, unknown>)[name];
  }
  return here;
}
