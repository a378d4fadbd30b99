/**
 * Asks one question at a time and, of those that come meanwhile, only the last: a slider asks more quickly than anybody can look.
 */
export class Latest<Q, A> {
  readonly #ask: (question: Q) => Promise<A>;
  readonly #take: (answer: A, question: Q) => void;
  readonly #fault: (error: Error) => void;
  #waiting: { readonly question: Q } | null = null;
  #busy = false;

  constructor(ask: (question: Q) => Promise<A>, take: (answer: A, question: Q) => void, fault: (error: Error) => void) {
    this.#fault = fault;
    this.#ask = ask;
    this.#take = take;
  }

  ask(question: Q): void {
    this.#waiting = { question };
    if (!this.#busy) void this.#work();
  }

  async #work(): Promise<void> {
    this.#busy = true;
    try {
      for (let next = this.#waiting; next !== null; next = this.#waiting) {
        this.#waiting = null;
        this.#take(await this.#ask(next.question), next.question);
      }
    } catch (error) {
      this.#fault(error instanceof Error ? error : new Error(String(error)));
    } finally {
      this.#busy = false;
    }
  }
}
