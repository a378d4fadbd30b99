import { type PageMap, pieceText } from '../report/pictures/map-plan.ts';

/** How far beside a piece a finger or pointer may be, px: tried in rings, the nearest first. */
const REACHES_PX = [0, 3, 6, 10];
const DIRECTIONS = 8;

/** The pieces of a map: which one is pointed at, and what is told of it. */
export class MapPieces {
  readonly #figure: HTMLElement;
  readonly #svg: SVGSVGElement;
  readonly #map: PageMap;
  /** Number of the piece that was chosen; 0: none. */
  chosen = 0;

  constructor(figure: HTMLElement, svg: SVGSVGElement, map: PageMap) {
    this.#figure = figure;
    this.#svg = svg;
    this.#map = map;
  }

  get count(): number {
    return this.#map.pieces.length;
  }

  element(number: number): SVGGraphicsElement | null {
    return this.#svg.querySelector<SVGGraphicsElement>(`[data-piece="${number}"]`);
  }

  /** Number of the piece at a place of the window, or so near beside it; 0 where there is none. */
  at(clientX: number, clientY: number, reachPx: number): number {
    for (const reach of REACHES_PX.filter((px) => px <= reachPx)) {
      for (let i = 0; i < (reach === 0 ? 1 : DIRECTIONS); i++) {
        const angle = (i / DIRECTIONS) * 2 * Math.PI;
        const found = document
          .elementsFromPoint(clientX + reach * Math.cos(angle), clientY + reach * Math.sin(angle))
          .flatMap((under) => (this.#svg.contains(under) ? (under.closest<SVGElement>('[data-piece]') ?? []) : []))[0];
        if (found) return Number(found.dataset['piece']);
      }
    }
    return 0;
  }

  point(number: number): void {
    this.#mark('under', number);
    if (number > 0) this.tell(this.text(number));
  }

  choose(number: number): void {
    this.chosen = number;
    this.#mark('chosen', number);
    if (number > 0) this.tell(this.text(number));
  }

  /** Recipe, time and line of a piece. */
  text(number: number): string {
    const piece = this.#map.pieces[number - 1];
    if (!piece) return '';
    const element = this.element(number);
    const label = (element?.closest('a.cut') ?? element)?.getAttribute('aria-label') ?? '';
    return `${pieceText(piece, number, this.#map.pieceCount)} ${label}`;
  }

  tell(says: string): void {
    const told = this.#figure.querySelector('.told');
    if (told) told.textContent = says;
  }

  #mark(css: 'under' | 'chosen', number: number): void {
    for (const other of this.#svg.querySelectorAll(`.piece.${css}`)) other.classList.remove(css);
    if (number > 0) this.element(number)?.classList.add(css);
  }
}
