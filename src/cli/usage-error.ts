/** The command line or a configuration file is wrong: exit code 2, said in one sentence with a way out, without a stack. */
export class UsageError extends Error {
  override readonly name = 'UsageError';
  /** What to do about it, as a sentence. */
  readonly wayOut: string;
  constructor(message: string, wayOut: string) {
    super(message);
    this.wayOut = wayOut;
  }
}

/**
 * Does all of them, and stops only then: so that people are told at once of everything that has to be put right.
 * @throws UsageError with what each said that stopped, and its way out
 */
export function allAtOnce<const T extends readonly (() => unknown)[]>(
  acts: T,
): { -readonly [I in keyof T]: ReturnType<T[I]> } {
  const stopped: UsageError[] = [];
  const values = acts.map((act) => {
    try {
      return act();
    } catch (error) {
      if (!(error instanceof UsageError)) throw error;
      stopped.push(error);
      return undefined;
    }
  });
  const last = stopped.pop();
  if (last === undefined) return values as { -readonly [I in keyof T]: ReturnType<T[I]> };
  throw new UsageError(
    [...stopped.flatMap(({ message, wayOut }) => [message, wayOut]), last.message].join('\n'),
    last.wayOut,
  );
}
