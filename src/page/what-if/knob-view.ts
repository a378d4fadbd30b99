import type { Knob } from '../../trial.ts';
import { make } from '../make-element.ts';

/** What a slider shows: its values, where it stands, and the words for it. */
export interface KnobShown {
  readonly knob: Knob | null;
  /** Null: nothing is planned. */
  readonly value: number | null;
  readonly text: (value: number) => string;
  /** Said beside the value: "48 W at the work". */
  readonly beside?: string | null;
}

/** One slider with its name, its value in words and what it stops at. */
export class KnobView {
  readonly element: HTMLElement;
  readonly #input: HTMLInputElement;
  readonly #value: HTMLOutputElement;
  readonly #stops: HTMLElement;
  #values: readonly number[] = [];

  constructor(id: string, label: string, turn: (value: number) => void) {
    this.#input = make('input', { type: 'range', id, min: '0', step: '1', 'aria-describedby': `${id}-stops` });
    this.#value = make('output', { for: id });
    this.#stops = make('p', { class: 'stops', id: `${id}-stops` });
    const name = make('label', { for: id }, label);
    this.element = make('div', { class: 'knob' }, make('p', {}, name, ' ', this.#value), this.#input, this.#stops);
    this.#input.addEventListener('input', () => {
      const value = this.#values[this.#input.valueAsNumber];
      if (value !== undefined) turn(value);
    });
  }

  show({ knob, value, text, beside }: KnobShown): void {
    this.element.hidden = knob === null;
    if (knob === null) return;
    this.#values = withOwn(knob.values, value);
    const [least, most] = [this.#values[0]!, this.#values.at(-1)!];
    const at = value === null ? 0 : nearest(this.#values, value);
    this.#input.max = String(this.#values.length - 1);
    this.#input.value = String(at);
    this.#input.disabled = this.#values.length < 2;
    const said = value === null ? 'not planned' : text(value);
    this.#input.setAttribute('aria-valuetext', said);
    this.#value.textContent = beside ? `${said}, ${beside}` : said;
    const beyond = value !== null && (value < least || value > most) ? 'What is planned lies beyond it. ' : '';
    this.#stops.textContent = `${beyond}Stops at ${knob.leastBy} and at ${knob.mostBy}.`;
  }
}

/** A planned value between two steps is a step of its own; one beyond the ends is none. */
function withOwn(values: readonly number[], value: number | null): readonly number[] {
  if (value === null || values.includes(value)) return values;
  const [least, most] = [values[0]!, values.at(-1)!];
  if (value < least || value > most) return values;
  return [...values, value].sort((a, b) => a - b);
}

function nearest(values: readonly number[], value: number): number {
  let best = 0;
  values.forEach((one, index) => {
    if (Math.abs(one - value) < Math.abs(values[best]! - value)) best = index;
  });
  return best;
}
