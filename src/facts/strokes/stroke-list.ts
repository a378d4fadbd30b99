/** Gathers numbers of strokes, mostly in order and many times over, without an object or a string for each. */
export class StrokeList {
  #items = new Uint32Array(16);
  #count = 0;
  #last = -1;
  #ascends = true;

  add(stroke: number): void {
    if (stroke === this.#last) return;
    if (stroke < this.#last) this.#ascends = false;
    this.#last = stroke;
    if (this.#count === this.#items.length) {
      const wider = new Uint32Array(2 * this.#count);
      wider.set(this.#items);
      this.#items = wider;
    }
    this.#items[this.#count++] = stroke;
  }

  /** Each number once, ascending. */
  ascending(): Uint32Array {
    if (this.#ascends) return this.#items.slice(0, this.#count);
    const sorted = this.#items.slice(0, this.#count).sort();
    let kept = 0;
    for (let k = 0; k < sorted.length; k++) if (k === 0 || sorted[k] !== sorted[kept - 1]) sorted[kept++] = sorted[k]!;
    return sorted.slice(0, kept);
  }
}
