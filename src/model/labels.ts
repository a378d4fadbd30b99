import type { StrokeLabel } from './toolpath.ts';

/** Most distinct labels; later ones share the last. */
const LABELS = 10_000;
const COMMENT = 200;

/** The distinct combinations of comment and tool that strokes bear. */
export class Labels {
  readonly list: StrokeLabel[] = [];
  readonly #byKey = new Map<string, number>();

  indexOf(comment: string | null, tool: number | null, line: number): number {
    const short = comment === null ? null : comment.slice(0, COMMENT);
    const key = JSON.stringify([short, tool]);
    const known = this.#byKey.get(key);
    if (known !== undefined) return known;
    if (this.list.length >= LABELS) return this.list.length - 1;
    const index = this.list.length;
    this.list.push({ comment: short, tool, line });
    this.#byKey.set(key, index);
    return index;
  }
}
