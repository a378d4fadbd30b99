import type { Location } from '../../source/place.ts';

/** A waiver as stated, held against the findings of its job. */
export interface WaiverFact {
  /** As written. */
  readonly rule: string;
  /** A rule of that id exists. */
  readonly known: boolean;
  /** The rule that was probably meant, or that took over from a retired one. */
  readonly suggestion: string | null;
  /** The rule is about what can hurt someone: see `Rule.safety`. */
  readonly safety: boolean;
  readonly where: 'sidecar' | 'inline';
  readonly reason: string | null;
  /** ISO date, the last day on which it counts. */
  readonly until: string | null;
  readonly location: Location;
  /** It has all that it needs and has not run out. */
  readonly counts: boolean;
  /** Findings of this job that it marked as waived. */
  readonly covered: number;
}
