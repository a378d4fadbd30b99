/** One thing of the machine that a job's answer rests on and that nobody stated. */
export interface AssumedKey {
  /** Key of the profile that would state it: "beam.diameter". */
  readonly key: string;
  readonly value: number | string;
  readonly unit: string | null;
  /** Where the value comes from. */
  readonly basis: string;
  /** How far it may be off is carried into the depth. */
  readonly inDoubt: boolean;
}

/** The measurement that would narrow the predicted depth most. */
export interface Narrowing {
  /** Key of the profile that it would state. */
  readonly key: string;
  /** Half the 5–95 % band of the depth in its logarithm: what ± stands for (docs/model.md). */
  readonly fromShare: number;
  readonly toShare: number;
}

/** What of the machine was assumed, and what would narrow the answer. */
export interface AssumedFact {
  /** What is in doubt first. */
  readonly keys: readonly AssumedKey[];
  /** Null where nothing that was assumed can be measured, nothing was predicted, or it would hardly help. */
  readonly narrows: Narrowing | null;
}
