import type { Place } from '../../source/place.ts';
import type { ProblemList } from '../problems.ts';
import { type Block, bit, codeName } from '../text/block.ts';
import { G_GROUPS, GROUP, type Group, M_GROUPS } from '../text/codes.ts';

const AXES = bit('X') | bit('Y') | bit('Z');

/** Reports codes of one line that exclude each other: two of a modal group, or two that would both have its axis words. */
export function reportConflicts(block: Block, problems: ProblemList): void {
  const seen = new Map<Group, string>();
  const check = (group: Group | undefined, name: string, place: Place) => {
    if (!group) return;
    const first = seen.get(group);
    if (first !== undefined && first !== name) {
      problems.add('modal-conflict', place, { first, second: name, group }, `${first} ${name}`);
    }
    seen.set(group, name);
  };
  let motion = false;
  for (let i = 0; i < block.gCount; i++) {
    const name = codeName('G', block.g[i]!);
    const group = G_GROUPS.get(block.g[i]!);
    check(group, name, block.placeOfG(i));
    // A motion and a code such as G92 would both want the line's X, Y and Z; two motions are a conflict already.
    if (block.mask & AXES && group === GROUP.motion && !motion) check(GROUP.axisWords, name, block.placeOfG(i));
    motion ||= group === GROUP.motion;
  }
  for (let i = 0; i < block.mCount; i++) {
    check(M_GROUPS.get(block.m[i]!), codeName('M', block.m[i]!), block.placeOfM(i));
  }
}
