import { type BuiltIn, Desk, UnreadableFile } from './desk.ts';
import type { Posted, Progress, Reply } from './messages.ts';

/** What a worker offers, as far as it is used here. */
interface WorkerScope {
  postMessage(reply: Reply): void;
  onmessage: ((event: { data: Posted }) => void) | null;
}

/** A share is told when it has grown by so much: a page that hears of each chunk has nothing else to do. */
const STEP = 0.01;

/** Answers the page from a worker, one question after the other. */
export function serve(scope: WorkerScope, built: BuiltIn): void {
  const desk = new Desk(built);
  let before: Promise<void> = Promise.resolve();
  scope.onmessage = ({ data }) => {
    before = before.then(() => answered(desk, data)).then((reply) => scope.postMessage(reply));
  };
  const answered = async (asked: Desk, { id, kind, ask }: Posted): Promise<Reply> => {
    try {
      return {
        id,
        answer: await asked.answer(
          kind,
          ask,
          thinned((progress) => scope.postMessage({ id, progress })),
        ),
      };
    } catch (error) {
      return { id, fault: faultText(error) };
    }
  };
  scope.postMessage({ id: 0, ready: true });
}

/** What went wrong, for whoever reads it on the page. */
export function faultText(error: unknown): string {
  return error instanceof UnreadableFile ? error.message : `kerflint failed; this is its own fault: ${String(error)}`;
}

function thinned(tell: (progress: Progress) => void): (progress: Progress) => void {
  let last: Progress | null = null;
  return (progress) => {
    const { text, share } = progress;
    const moved = last === null || last.text !== text || Math.abs((share ?? 0) - (last.share ?? 0)) >= STEP;
    if (!moved) return;
    last = progress;
    tell(progress);
  };
}
