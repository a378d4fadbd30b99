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
