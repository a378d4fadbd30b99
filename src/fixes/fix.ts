import type { JobFacts } from '../facts/facts.ts';
import type { JobResult } from '../findings/result.ts';
import type { FoundJob } from '../job/files/job-opener.ts';
import type { Edited, ProgramEditor } from '../model/editing.ts';
import type { Toolpath } from '../model/toolpath.ts';
import type { Location } from '../source/place.ts';
import type { ExpectedMotion } from './same-motion.ts';

/** The fixes that there are, in the order in which they are tried. */
export const FIXES = ['duplicate-passes', 'beam-off', 'settings', 'order', 'air'] as const;
export type FixId = (typeof FIXES)[number];

/** A job with what it was found to be. */
export interface JudgedState {
  readonly job: FoundJob;
  readonly facts: JobFacts;
  readonly result: JobResult;
}

/** What a fix looks at. */
export interface FixContext extends JudgedState {
  readonly toolpath: Toolpath;
  /** Longest dwell that is a pierce, s: the option of toolpath/dwell-burn that is in force. */
  readonly pierceS: number;
}

/** A scalar of the sidecar that says something else now, since the toolpath does. */
export interface Mirrored {
  location: Location;
  text: string;
}

/** One thing that a fix would mend: it stands or falls as a whole. */
export interface Candidate {
  /** What is done, as a sentence without its full stop. */
  readonly what: string;
  readonly location: Location;
}

/** Something that a fix leaves alone, and why, as a clause. */
export interface Declined extends Candidate {
  /** Null: of something that none is for. */
  readonly fix: FixId | null;
  readonly why: string;
}

/** A change of the toolpath's text, and what must be read out of it afterwards. */
export interface Change {
  readonly edited: Edited;
  readonly expected: ExpectedMotion;
  readonly mirrored: readonly Mirrored[];
}

/** What a fix found to do. */
export interface Proposal {
  readonly candidates: readonly Candidate[];
  readonly declined: readonly Omit<Declined, 'fix'>[];
  /** The change for some of the candidates together. */
  change(chosen: readonly Candidate[], editor: ProgramEditor): Change;
}

/** A proposal of candidates that know more than is told of them. */
export function proposalOf<C extends Candidate>(
  candidates: readonly C[],
  declined: Proposal['declined'],
  change: (chosen: readonly C[], editor: ProgramEditor) => Change,
): Proposal {
  const those = (chosen: readonly Candidate[]) => {
    const wanted = new Set(chosen);
    return candidates.filter((one) => wanted.has(one));
  };
  return { candidates, declined, change: (chosen, editor) => change(those(chosen), editor) };
}

/** Nothing to do; `declined` is left alone. */
export function nothing(declined: Proposal['declined'] = []): Proposal {
  return proposalOf([], declined, () => {
    throw new Error('there is no candidate to change anything for');
  });
}
