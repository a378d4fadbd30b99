import type { StrokeLabel } from './toolpath.ts';

/** Most distinct labels; later ones share the last, and `endedEarly` says so. */
const MOST_LABELS = 10_000;
const COMMENT = 200;

/** The distinct combinations of comment and tool that strokes bear. */
export class Labels {
  readonly list: StrokeLabel[] = [];
  endedEarly: string | null = null;
  readonly #byKey = new Map<string, number>();

  indexOf(comment: string | null, tool: number | null, line: number): number {
    const short = comment === null ? null : comment.slice(0, COMMENT);
    const key = JSON.stringify([short, tool]);
    const known = this.#byKey.get(key);
    if (known !== undefined) return known;
    if (this.list.length >= MOST_LABELS) {
      this.endedEarly = `there are more than ${MOST_LABELS} different comments and tools, and the strokes after that were not told apart`;
      return this.list.length - 1;
    }
    const index = this.list.length;
    this.list.push({ comment: short, tool, line });
    this.#byKey.set(key, index);
    return index;
  }
}
