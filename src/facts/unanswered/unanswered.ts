/** What kind of fact is missing: a stable word for programs that read a result. */
type MissingFact =
  | 'machine'
  | 'material'
  | 'thickness'
  | 'lens'
  | 'settings'
  | 'task'
  | 'prediction'
  | 'power-scale'
  | 'toolpath'
  | 'artwork'
  | 'file'
  | 'search'
  | 'kerflint';

/** A question of the job that nobody could answer, so that the job cannot read as checked: the verdict is `incomplete`. */
export interface Unanswered {
  readonly fact: MissingFact;
  /** The question that stays open, as the rest of "It is not known …": "whether the sheet parts". */
  readonly what: string;
  /** The missing fact, as the rest of "Not judged: …": "no thickness is given". It is what `incomplete` lists. */
  readonly missing: string;
  /** How to give it: one sentence, or a few, that tell a person what to do. */
  readonly remedy: string;
}

/** Each missing fact once: the first question that hangs on it stands for all. */
export function eachOnce(unanswered: readonly Unanswered[]): Unanswered[] {
  const byFact = new Map<string, Unanswered>();
  for (const one of unanswered) if (!byFact.has(one.missing)) byFact.set(one.missing, one);
  return [...byFact.values()];
}

/** The question that most hangs on. */
export const PARTS = 'whether the sheet parts';
