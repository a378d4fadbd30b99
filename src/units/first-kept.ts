/**
 * The first of many by an order, however many come: no more are kept than wanted. What comes earlier stands ahead of its equals, as in a
 * stable sort. A heap with the last of those kept on top.
 */
export class FirstKept<T> {
  readonly #heap: { item: T; at: number }[] = [];
  readonly #most: number;
  readonly #compare: (a: T, b: T) => number;
  #come = 0;

  /** @param most how many are kept; Infinity where something else bounds them (`dropLast`) */
  constructor(most: number, compare: (a: T, b: T) => number) {
    this.#most = most;
    this.#compare = compare;
  }

  get size(): number {
    return this.#heap.length;
  }

  /** Takes one in; gives the one that there is no room for, which may be the same, or null. */
  add(item: T): T | null {
    this.#heap.push({ item, at: this.#come++ });
    this.#rise(this.#heap.length - 1);
    return this.#heap.length > this.#most ? this.dropLast() : null;
  }

  /** Takes out the last of those kept; null when there is none. */
  dropLast(): T | null {
    const [top] = this.#heap;
    const end = this.#heap.pop();
    if (top === undefined || end === undefined) return null;
    if (this.#heap.length > 0) {
      this.#heap[0] = end;
      this.#sink(0);
    }
    return top.item;
  }

  /** Those kept, by their order. */
  sorted(): T[] {
    return [...this.#heap].sort((a, b) => (this.#after(a, b) ? 1 : -1)).map(({ item }) => item);
  }

  #after(a: { item: T; at: number }, b: { item: T; at: number }): boolean {
    return (this.#compare(a.item, b.item) || a.at - b.at) > 0;
  }

  #rise(from: number): void {
    const heap = this.#heap;
    const one = heap[from]!;
    let at = from;
    while (at > 0) {
      const above = (at - 1) >> 1;
      if (!this.#after(one, heap[above]!)) break;
      heap[at] = heap[above]!;
      at = above;
    }
    heap[at] = one;
  }

  #sink(from: number): void {
    const heap = this.#heap;
    const one = heap[from]!;
    let at = from;
    for (;;) {
      let below = 2 * at + 1;
      if (below >= heap.length) break;
      if (below + 1 < heap.length && this.#after(heap[below + 1]!, heap[below]!)) below++;
      if (!this.#after(heap[below]!, one)) break;
      heap[at] = heap[below]!;
      at = below;
    }
    heap[at] = one;
  }
}
