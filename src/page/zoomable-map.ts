import type { PageMap } from '../report/pictures/map-plan.ts';
import { readPageMap } from '../report/pictures/map-plan.ts';
import { type Fit, MapOverlay, partOf } from './map-overlay.ts';
import { MapPieces } from './map-pieces.ts';
import { MapWindow, type PartView } from './map-window.ts';

/** How much one step of the buttons and keys zooms. */
const STEP = 1.5;
/** A view that has not moved for this long is drawn anew. */
const REST_MS = 180;
/** A map whose paths have more characters than this is moved as an image until it rests. */
const HEAVY = 150_000;
/** Arrow keys move by this share of what is shown. */
const NUDGE = 0.12;
/** How far beside a piece a pointer and a finger may be, px. */
const POINTER_PX = 3;
const FINGER_PX = 10;

/** Zoom, pan, pieces and jumps of one sheet map. */
export class ZoomableMap {
  readonly #figure: HTMLElement;
  readonly #svg: SVGSVGElement;
  readonly #map: PageMap;
  readonly #window: MapWindow;
  readonly #overlay: MapOverlay;
  readonly #pieces: MapPieces;
  /** Pointers that are down, for dragging with one and pinching with two. */
  readonly #down = new Map<number, { x: number; y: number }>();
  #dragged = false;
  /** The view that is drawn; another one is shown by moving it. */
  #drawn: PartView;
  /** Drawing anew takes longer than a frame. */
  readonly #heavy: boolean;
  #rest: ReturnType<typeof setTimeout> | null = null;
  #pointing = 0;

  constructor(figure: HTMLElement, svg: SVGSVGElement) {
    this.#figure = figure;
    this.#svg = svg;
    this.#map = readPageMap(figure.dataset['map'] ?? '');
    const { x, y, width, height } = svg.viewBox.baseVal;
    const { bed } = this.#map.plan;
    this.#window = new MapWindow({ x, y, width, height }, bed && withRoom(partOf(this.#map, bed)));
    this.#drawn = this.#window.first;
    this.#overlay = new MapOverlay(svg, this.#map);
    this.#pieces = new MapPieces(figure, svg, this.#map);
    const paths = [...svg.querySelectorAll('path')].reduce(
      (sum, path) => sum + (path.getAttribute('d')?.length ?? 0),
      0,
    );
    this.#heavy = paths > HEAVY;
    if (this.#heavy) svg.classList.add('heavy');
  }

  activate(): void {
    const svg = this.#svg;
    this.#figure.classList.add('scripted');
    for (const hidden of this.#figure.querySelectorAll<HTMLElement>('.tools, .told')) hidden.hidden = false;
    this.#figure.querySelector('.tools')?.addEventListener('click', (event) => {
      const does = (event.target as Element).closest<HTMLElement>('[data-zoom]')?.dataset['zoom'];
      if (does !== undefined) this.#act(does);
    });
    svg.setAttribute('tabindex', '0');
    svg.addEventListener('keydown', (event) => this.#key(event));
    svg.addEventListener('wheel', (event) => this.#wheel(event), { passive: false });
    svg.addEventListener('dblclick', (event) => {
      this.#window.zoom(STEP * STEP, this.#at(event.clientX, event.clientY));
      this.#show();
    });
    svg.addEventListener('pointerdown', (event) => this.#press(event));
    svg.addEventListener('pointermove', (event) => this.#move(event));
    svg.addEventListener('pointerleave', () => this.#pieces.point(0));
    for (const name of ['pointerup', 'pointercancel'] as const)
      svg.addEventListener(name, (event) => this.#down.delete(event.pointerId));
    svg.addEventListener('click', (event) => this.#click(event), { capture: true });
    for (const mark of svg.querySelectorAll('a.cut, a.pin')) {
      const tell = () => {
        mark.classList.add('under');
        this.#pieces.tell(mark.getAttribute('aria-label') ?? '');
      };
      mark.addEventListener('focus', tell);
      mark.addEventListener('blur', () => mark.classList.remove('under'));
      if (!mark.matches('.pin')) continue;
      mark.addEventListener('pointerenter', tell);
      mark.addEventListener('pointerleave', () => mark.classList.remove('under'));
    }
    // The map shows its own tooltips; without this the browser would show them a second time.
    for (const title of svg.querySelectorAll('a > title, .piece > title')) title.remove();
    new ResizeObserver(() => this.#draw()).observe(svg.parentElement ?? svg);
    // On paper the whole sheet is shown, with the marks that the picture has of its own.
    window.addEventListener('beforeprint', () => this.#act('all'));
    this.#draw();
  }

  /** Brings a part of this map into view, whatever is shown of it, and points it out; false when the part is not in it. */
  jumpTo(id: string): boolean {
    const target = this.#svg.querySelector<SVGGraphicsElement>(`[id="${CSS.escape(id)}"]`);
    if (!target) return false;
    const number = Number(target.dataset['piece'] ?? 0);
    const tip = target.querySelector<SVGElement>('.fixed')?.dataset;
    const { x, y, width, height } = target.getBBox();
    const part = tip ? { x: Number(tip['x']), y: Number(tip['y']), width: 0, height: 0 } : { x, y, width, height };
    this.#overlay.ringed = part;
    if (number > 0) this.#pieces.choose(number);
    else this.#pieces.tell(target.getAttribute('aria-label') ?? '');
    this.#window.bringIn(part);
    this.#show(false);
    (this.#svg.parentElement ?? this.#svg).scrollIntoView({ block: 'nearest' });
    return true;
  }

  #act(does: string): void {
    const { worked, plan } = this.#map;
    const acts: Record<string, () => void> = {
      in: () => this.#window.zoom(STEP),
      out: () => this.#window.zoom(1 / STEP),
      all: () => this.#window.show(this.#window.first),
      job: () => worked && this.#window.fit(partOf(this.#map, worked)),
      bed: () => plan.bed && this.#window.fit(partOf(this.#map, plan.bed)),
      next: () => this.#step(1),
      before: () => this.#step(-1),
    };
    acts[does]?.();
    this.#show();
  }

  /** To the piece that is cut next, or before the one that is chosen. */
  #step(by: number): void {
    const { count, chosen } = this.#pieces;
    const number = chosen === 0 ? (by > 0 ? 1 : count) : ((chosen - 1 + by + count) % count) + 1;
    this.#choose(number);
    const piece = this.#map.pieces[number - 1];
    if (!piece) return;
    const start = partOf(this.#map, { minX: piece.atX, maxX: piece.atX, minY: piece.atY, maxY: piece.atY });
    const box = this.#pieces.element(number)?.getBBox() ?? start;
    this.#window.bringIn({ x: box.x, y: box.y, width: box.width, height: box.height });
  }

  #choose(number: number): void {
    this.#pieces.choose(number);
    const box = number === 0 ? null : this.#pieces.element(number)?.getBBox();
    this.#overlay.ringed = box ? { x: box.x, y: box.y, width: box.width, height: box.height } : null;
  }

  #key(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const { width, height } = this.#window.shown;
    const acts: Record<string, () => void> = {
      '+': () => this.#act('in'),
      '=': () => this.#act('in'),
      '-': () => this.#act('out'),
      '0': () => this.#act('all'),
      ArrowLeft: () => this.#pan(-width * NUDGE, 0),
      ArrowRight: () => this.#pan(width * NUDGE, 0),
      ArrowUp: () => this.#pan(0, -height * NUDGE),
      ArrowDown: () => this.#pan(0, height * NUDGE),
    };
    const act = acts[event.key];
    if (!act) return;
    act();
    event.preventDefault();
  }

  /** The wheel zooms while the map has the focus or Ctrl is held (a pinch on a touch pad); else the page scrolls. */
  #wheel(event: WheelEvent): void {
    const focused = this.#svg.contains(document.activeElement);
    if (!event.ctrlKey && !focused) return;
    event.preventDefault();
    this.#window.zoom(STEP ** (-event.deltaY / 240), this.#at(event.clientX, event.clientY));
    this.#show();
  }

  #press(event: PointerEvent): void {
    this.#down.set(event.pointerId, { x: event.clientX, y: event.clientY });
    this.#dragged = false;
  }

  #move(event: PointerEvent): void {
    const before = this.#down.get(event.pointerId);
    const now = { x: event.clientX, y: event.clientY };
    if (!before) {
      this.#pointSoon(now);
      return;
    }
    const [other] = [...this.#down].filter(([id]) => id !== event.pointerId).map(([, point]) => point);
    if (other) {
      const ratio = Math.hypot(now.x - other.x, now.y - other.y) / Math.hypot(before.x - other.x, before.y - other.y);
      if (Number.isFinite(ratio) && ratio > 0) {
        this.#window.zoom(ratio, this.#at((now.x + other.x) / 2, (now.y + other.y) / 2));
        this.#show();
      }
      this.#dragged = true;
    } else {
      if (!this.#dragged && Math.hypot(now.x - before.x, now.y - before.y) < 5) return;
      if (!this.#dragged) this.#svg.setPointerCapture(event.pointerId);
      this.#dragged = true;
      const { scale } = this.#fit(this.#window.shown);
      this.#pan((before.x - now.x) / scale, (before.y - now.y) / scale);
    }
    this.#down.set(event.pointerId, now);
  }

  /** What is pointed at is looked up once a frame: on a full map that takes a while. */
  #pointSoon({ x, y }: { x: number; y: number }): void {
    cancelAnimationFrame(this.#pointing);
    this.#pointing = requestAnimationFrame(() => {
      // A pin that lies on a piece tells of itself.
      if (this.#svg.querySelector('.pin.under') !== null) return;
      const number = this.#pieces.at(x, y, this.#heavy ? 0 : POINTER_PX);
      this.#pieces.point(number);
      const cut = number === 0 ? document.elementFromPoint(x, y)?.closest('a.cut') : null;
      if (cut && this.#svg.contains(cut)) this.#pieces.tell(cut.getAttribute('aria-label') ?? '');
    });
  }

  /** A tap chooses the piece under it; a drag that ends on a link is no click on it, and Enter on one is. */
  #click(event: MouseEvent): void {
    const byKeyboard = event.detail === 0;
    const onPin = (event.target as Element).closest('a.pin') !== null;
    if (this.#dragged) event.preventDefault();
    if (this.#dragged || byKeyboard || onPin) return;
    const number = this.#pieces.at(event.clientX, event.clientY, FINGER_PX);
    if (number > 0 || this.#map.pieces.length === this.#map.pieceCount) event.preventDefault();
    this.#choose(number);
    this.#drawMarks();
  }

  /** Draws the view anew. */
  #draw(): void {
    const { x, y, width, height } = this.#window.shown;
    this.#drawn = this.#window.shown;
    this.#svg.style.transform = '';
    this.#figure.classList.remove('sliding');
    this.#svg.setAttribute('viewBox', `${x} ${y} ${width} ${height}`);
    this.#drawMarks();
    this.#sayShown();
  }

  #drawMarks(): void {
    const { shown } = this.#window;
    this.#overlay.draw(shown, this.#fit(shown));
  }

  /**
   * Moves and scales what is drawn already, as long as the view moves, and draws anew when it rests: a picture of a hundred
   * thousand points is not drawn sixty times a second.
   */
  #slide(): void {
    const drawn = this.#drawn;
    const { scale, left, top } = this.#fit(drawn);
    const { x, y, width } = this.#window.shown;
    const by = drawn.width / width;
    const dx = left * (1 - by) + (drawn.x - x) * scale * by;
    const dy = top * (1 - by) + (drawn.y - y) * scale * by;
    this.#svg.style.transform = `translate(${dx}px, ${dy}px) scale(${by})`;
    this.#figure.classList.add('sliding');
    if (this.#rest !== null) clearTimeout(this.#rest);
    this.#rest = setTimeout(() => this.#draw(), REST_MS);
  }

  /** How a view lies in the box of the picture: in the middle, as large as fits. The box itself is never transformed. */
  #fit(view: PartView): Fit {
    const { clientWidth, clientHeight } = this.#svg;
    const scale = Math.min(clientWidth / view.width, clientHeight / view.height) || 1;
    return {
      scale,
      left: (clientWidth - view.width * scale) / 2,
      top: (clientHeight - view.height * scale) / 2,
    };
  }

  #at(clientX: number, clientY: number): { x: number; y: number } {
    const { shown } = this.#window;
    const { scale, left, top } = this.#fit(shown);
    const box = (this.#svg.parentElement ?? this.#svg).getBoundingClientRect();
    return { x: shown.x + (clientX - box.left - left) / scale, y: shown.y + (clientY - box.top - top) / scale };
  }

  #pan(dx: number, dy: number): void {
    this.#window.pan(dx, dy);
    this.#show();
  }

  #show(sliding = true): void {
    // Touch scrolls the page as long as there is nowhere to move to in the map.
    this.#svg.style.touchAction = this.#window.shown.width < this.#window.first.width ? 'none' : 'pan-x pan-y';
    if (this.#heavy && sliding) this.#slide();
    else this.#draw();
  }

  /** What the scales show, in words as well. */
  #sayShown(): void {
    const says = this.#figure.querySelector('.shown');
    const { x, y, width, height } = this.#window.shown;
    const { view, perMm, plan } = this.#map;
    const span = (from: number, to: number) =>
      `${Math.round(Math.min(from, to) * 10) / 10} to ${Math.round(Math.max(from, to) * 10) / 10}`;
    const top = plan.yUp ? view.maxY : view.minY;
    const down = plan.yUp ? -1 : 1;
    const across = span(view.minX + x / perMm, view.minX + (x + width) / perMm);
    const along = span(top + (down * y) / perMm, top + (down * (y + height)) / perMm);
    if (says) says.textContent = width < this.#window.first.width ? `Shown: X ${across}, Y ${along} mm` : '';
  }
}

/** The bed with room for its name and the scales. */
function withRoom({ x, y, width, height }: PartView): PartView {
  const room = Math.max(width, height) * 0.08;
  return { x: x - room, y: y - room, width: width + 2 * room, height: height + 2 * room };
}
