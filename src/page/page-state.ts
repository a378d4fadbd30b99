import type { TypedForm } from './form/typed-form.ts';
import type { AskedJob, MaterialEntry, Progress, Refusal, ShownJob } from './worker/messages.ts';

/** What is seen of the page. */
export type View = 'form' | 'ask' | 'report';

/** Everything that the page knows; what is shown follows from it. */
export interface PageState {
  readonly view: View;
  /** By their paths. */
  readonly files: ReadonlyMap<string, File>;
  /** Sentences on what was dropped and could not be taken. */
  readonly notTaken: readonly string[];
  readonly typed: TypedForm;
  readonly materials: readonly MaterialEntry[];
  /** What is wrong with fields, each beside its own. */
  readonly wrong: readonly Refusal[];
  /** The box is ticked, and the machine is kept on this device. */
  readonly remembers: boolean;
  /** The browser keeps nothing for this page. */
  readonly storageRefused: boolean;
  readonly asked: readonly AskedJob[];
  /** What is being worked on; null at rest. */
  readonly busy: Progress | null;
  /** A fault that belongs to no field. */
  readonly fault: string | null;
  readonly jobs: readonly ShownJob[];
}

/** The state and whoever shows it. */
export class PageStore {
  #state: PageState;
  readonly #shows: ((state: PageState, before: PageState) => void)[] = [];

  constructor(state: PageState) {
    this.#state = state;
  }

  get state(): PageState {
    return this.#state;
  }

  /** Calls with each new state and the one before. */
  onChange(show: (state: PageState, before: PageState) => void): void {
    this.#shows.push(show);
  }

  set(change: Partial<PageState>): void {
    const before = this.#state;
    this.#state = { ...before, ...change };
    for (const show of this.#shows) show(this.#state, before);
  }
}
