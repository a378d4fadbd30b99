import { HAZARD_WORDS } from '../../job/material/names/hint-text.ts';
import { make } from '../make-element.ts';
import type { MaterialEntry } from '../worker/messages.ts';
import { type Hit, searched } from './material-search.ts';

/** So many stand in the open list; typing narrows it. */
const MOST_SHOWN = 60;

/**
 * A field with a list that is searched as one types, by the keys of a combobox (WAI-ARIA authoring practices, "editable combobox with list
 * autocomplete"): arrows, Enter, Escape.
 */
export class MaterialBox {
  readonly #input: HTMLInputElement;
  readonly #list: HTMLElement;
  #entries: readonly MaterialEntry[] = [];
  #hits: Hit[] = [];
  #active = -1;

  constructor(input: HTMLInputElement, list: HTMLElement, onChoice: (id: string) => void) {
    this.#input = input;
    this.#list = list;
    const choose = (i: number) => {
      const hit = this.#hits[i];
      if (hit === undefined) return;
      onChoice(hit.entry.id);
      this.#close();
    };
    input.addEventListener('input', () => this.#open());
    input.addEventListener('click', () => this.#open());
    input.addEventListener('blur', () => this.#close());
    input.addEventListener('keydown', (event) => {
      const opened = !this.#list.hidden;
      if (event.key === 'ArrowDown' || event.key === 'ArrowUp') {
        event.preventDefault();
        if (!opened) this.#open();
        this.#activate(this.#active + (event.key === 'ArrowDown' ? 1 : -1));
      } else if (event.key === 'Enter' && opened && this.#active >= 0) {
        event.preventDefault();
        choose(this.#active);
      } else if (event.key === 'Escape' && opened) {
        event.preventDefault();
        this.#close();
      }
    });
    // The field keeps the focus while its list is pointed at.
    list.addEventListener('mousedown', (event) => event.preventDefault());
    list.addEventListener('click', (event) => {
      const option = (event.target as Element).closest<HTMLElement>('[role=option]');
      if (option) choose(Number(option.dataset['i']));
    });
  }

  offer(entries: readonly MaterialEntry[]): void {
    const waited = this.#entries.length === 0;
    this.#entries = entries;
    // Whoever typed before the materials were there sees them now.
    if (waited && document.activeElement === this.#input) this.#open();
  }

  #open(): void {
    this.#hits = searched(this.#input.value, this.#entries).slice(0, MOST_SHOWN);
    this.#active = -1;
    this.#list.replaceChildren(...this.#hits.map(optionOf));
    const none = this.#hits.length === 0;
    const opens = this.#list.hidden && !none;
    this.#list.hidden = none;
    if (opens) this.#list.scrollIntoView({ block: 'nearest' });
    this.#input.setAttribute('aria-expanded', String(!none));
    this.#input.removeAttribute('aria-activedescendant');
  }

  #close(): void {
    this.#list.hidden = true;
    this.#input.setAttribute('aria-expanded', 'false');
    this.#input.removeAttribute('aria-activedescendant');
  }

  #activate(wanted: number): void {
    const options = [...this.#list.children];
    if (options.length === 0) return;
    options[this.#active]?.setAttribute('aria-selected', 'false');
    this.#active = (wanted + options.length) % options.length;
    const option = options[this.#active]!;
    option.setAttribute('aria-selected', 'true');
    option.scrollIntoView({ block: 'nearest' });
    this.#input.setAttribute('aria-activedescendant', option.id);
  }
}

function optionOf({ entry, alias }: Hit, i: number): HTMLElement {
  const { id, name, hazard } = entry;
  return make(
    'div',
    { id: `material-${i}`, role: 'option', 'aria-selected': 'false', 'data-i': String(i) },
    make('strong', {}, name),
    make('span', { class: 'soft' }, alias === null ? ` ${id}` : ` ${id}, also ${alias}`),
    make('span', { class: `hazard ${hazard.class}` }, HAZARD_WORDS[hazard.class]),
  );
}
