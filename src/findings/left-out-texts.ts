import { formatCount } from '../units/format.ts';
import { inARow } from '../units/in-a-row.ts';
import type { LeftOutFile, RunResult } from './result.ts';

/** What was left out for one reason. */
export interface LeftOutGroup {
  readonly reason: string;
  readonly incomplete: boolean;
  readonly paths: readonly string[];
}

/** What was left out, by reason: first what makes the run incomplete, else in the order of the list. */
export function leftOutGroups(leftOut: readonly LeftOutFile[]): LeftOutGroup[] {
  const groups = new Map<string, { reason: string; incomplete: boolean; paths: string[] }>();
  for (const { path, reason, incomplete } of leftOut) {
    const key = `${incomplete}\n${reason}`;
    const group = groups.get(key) ?? { reason, incomplete, paths: [] };
    group.paths.push(path);
    groups.set(key, group);
  }
  const all = [...groups.values()];
  return [...all.filter(({ incomplete }) => incomplete), ...all.filter(({ incomplete }) => !incomplete)];
}

/** So many paths are named in a sentence. */
const PATHS_NAMED = 3;

/** What a run is incomplete for without any job being so, as words behind "not judged:"; null when there is nothing. */
export function unjudgedClause(leftOut: readonly LeftOutFile[]): string | null {
  const missing = leftOut.filter(({ incomplete }) => incomplete);
  const [group, ...others] = leftOutGroups(missing);
  if (group === undefined) return null;
  const named = missing.slice(0, PATHS_NAMED).map(({ path }) => path);
  const more = missing.length - named.length;
  const paths = inARow([...named, ...(more > 0 ? [`${more} more`] : [])], 'and');
  return others.length === 0 ? `${paths} (${group.reason})` : paths;
}

/** Where a job may have been passed by, as one line; empty when nothing was. Files of other kinds are only counted in JSON. */
export function passedByLine({ excluded, git, nodeModules, hiddenFolders }: RunResult['passedBy']): string {
  const times = (count: number, name: string) => (count === 1 ? name : `${count} ${name}`);
  const parts = [
    excluded > 0 ? `${excluded} that the settings exclude` : '',
    git > 0 ? times(git, '.git') : '',
    nodeModules > 0 ? times(nodeModules, 'node_modules') : '',
    hiddenFolders > 0 ? formatCount(hiddenFolders, 'hidden folder') : '',
  ].filter((part) => part !== '');
  return parts.length === 0 ? '' : `Passed by: ${inARow(parts, 'and')}.`;
}
