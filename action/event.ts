import { readFileSync } from 'node:fs';

type Env = Readonly<Record<string, string | undefined>>;

/** Nobody sets these off who cannot write to the repository, and what they check out is its own. */
const OWN_EVENTS = ['push', 'schedule'];
const PULL_REQUESTS = ['pull_request', 'pull_request_target'];

/**
 * Whether what was checked out comes from the repository itself for sure: after a push, on a schedule, and for a pull request of the same
 * repository. Every other event may be about anybody's commit (a comment, a dispatch, a check or another run may name one), and so may a
 * pull request when the runner's account of it cannot be read.
 */
export function comesFromRepository(env: Env): boolean {
  const name = env['GITHUB_EVENT_NAME'] ?? '';
  if (OWN_EVENTS.includes(name)) return true;
  if (!PULL_REQUESTS.includes(name)) return false;
  const home = env['GITHUB_REPOSITORY'];
  const head = path(eventOf(env), 'pull_request', 'head', 'repo', 'full_name');
  return typeof head === 'string' && head !== '' && head === home;
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
