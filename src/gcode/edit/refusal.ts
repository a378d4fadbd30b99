/** A change is not made, as a clause that says why; the editor hands it on as data. */
export class Refused extends Error {
  override readonly name = 'Refused';
  /** What stands in its way. */
  readonly line: number;
  constructor(reason: string, line: number) {
    super(reason);
    this.line = line;
  }
}
