import { type BuiltIn, Desk } from './desk.ts';
import type { Answer, Ask, Posted, Progress, Reply, RequestKind } from './messages.ts';
import { faultText } from './serve.ts';

interface Waiting {
  posted: Posted;
  tell: (progress: Progress) => void;
  resolve: (answer: never) => void;
  reject: (error: Error) => void;
}

/** Something that was asked could not be answered; the message is meant for people. */
export class HelperFault extends Error {
  override readonly name = 'HelperFault';
}

/**
 * Has the work done beside the page, by a worker that runs the page's own script. Where a browser starts no worker, the page does it
 * itself and stands still meanwhile.
 */
export class Helper {
  readonly #script: string;
  readonly #built: BuiltIn;
  readonly #waiting = new Map<number, Waiting>();
  #worker: Worker | null;
  /** The worker has said something. */
  #started = false;
  /** In place of a worker. */
  #desk: Desk | null = null;
  #asked = 0;

  /** @param script the text of the page's script, of which the worker runs its own part */
  constructor(script: string, built: BuiltIn) {
    this.#script = script;
    this.#built = built;
    this.#worker = this.#start();
  }

  /**
   * Asks and waits.
   * @throws HelperFault
   */
  ask<K extends RequestKind>(kind: K, ask: Ask<K>, tell: (progress: Progress) => void = () => {}): Promise<Answer<K>> {
    const id = ++this.#asked;
    return new Promise<Answer<K>>((resolve, reject) => {
      const waiting: Waiting = { posted: { id, kind, ask }, tell, resolve, reject };
      this.#waiting.set(id, waiting);
      this.#post(waiting);
    });
  }

  #start(): Worker | null {
    const url = URL.createObjectURL(new Blob([this.#script], { type: 'text/javascript' }));
    try {
      const worker = new Worker(url);
      worker.onmessage = ({ data }: MessageEvent<Reply>) => this.#take(data);
      worker.onerror = (event) => {
        event.preventDefault();
        this.#fell();
      };
      return worker;
    } catch {
      return null;
    }
  }

  #post(waiting: Waiting): void {
    if (this.#worker) this.#worker.postMessage(waiting.posted);
    else void this.#doItHere(waiting);
  }

  #take(reply: Reply): void {
    this.#started = true;
    const waiting = this.#waiting.get(reply.id);
    if (!waiting) return;
    if ('progress' in reply) {
      waiting.tell(reply.progress);
      return;
    }
    this.#waiting.delete(reply.id);
    if ('fault' in reply) waiting.reject(new HelperFault(reply.fault));
    else if ('answer' in reply) waiting.resolve(reply.answer as never);
  }

  /** A worker that never said a word may not be had here; one that worked before has run out of something. */
  #fell(): void {
    if (this.#started) {
      this.#worker?.terminate();
      this.#started = false;
      this.#worker = this.#start();
      const all = [...this.#waiting.values()];
      this.#waiting.clear();
      for (const { reject } of all)
        reject(new HelperFault('The work broke off, maybe for want of memory: give fewer or smaller files.'));
      return;
    }
    this.#worker = null;
    for (const waiting of this.#waiting.values()) this.#post(waiting);
  }

  async #doItHere({ posted, tell }: Waiting): Promise<void> {
    this.#desk ??= new Desk(this.#built);
    const { id, kind, ask } = posted;
    // The browser shows what is said before it stands still.
    tell({ text: 'Working in the page itself: it stands still meanwhile', share: null });
    await new Promise((shown) => setTimeout(shown, 0));
    try {
      this.#take({ id, answer: await this.#desk.answer(kind, ask, tell) });
    } catch (error) {
      this.#take({ id, fault: faultText(error) });
    }
  }
}
