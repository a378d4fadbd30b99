/** How much one step of the buttons and keys zooms. */
const STEP = 1.5;
/** The closest look: a hundredth of the sheet across. */
const CLOSEST = 100;
/** A view that has not moved for this long is drawn anew. */
const REST_MS = 180;
/** A map whose paths have more characters than this is moved as an image until it rests. */
const HEAVY = 150_000;
/** Arrow keys move by this share of what is shown. */
const NUDGE = 0.12;

interface View {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** Zoom, pan and tooltips of one sheet map. */
export class ZoomableMap {
  readonly #figure: HTMLElement;
  readonly #svg: SVGSVGElement;
  readonly #whole: View;
  /** Size of the figures along the axes, in units of the picture. */
  readonly #labels: number;
  #view: View;
  /** Pointers that are down, for dragging with one and pinching with two. */
  readonly #down = new Map<number, { x: number; y: number }>();
  #dragged = false;
  /** The view that is drawn; another one is shown by moving it. */
  #drawn: View;
  /** Drawing anew takes longer than a frame. */
  readonly #heavy: boolean;
  #rest: ReturnType<typeof setTimeout> | null = null;

  constructor(figure: HTMLElement, svg: SVGSVGElement) {
    this.#figure = figure;
    this.#svg = svg;
    const { x, y, width, height } = svg.viewBox.baseVal;
    this.#whole = { x, y, width, height };
    this.#view = this.#whole;
    this.#drawn = this.#whole;
    const paths = [...svg.querySelectorAll('path')].reduce(
      (sum, path) => sum + (path.getAttribute('d')?.length ?? 0),
      0,
    );
    this.#heavy = paths > HEAVY;
    if (this.#heavy) svg.classList.add('heavy');
    this.#labels = Number(svg.querySelector('.axes')?.getAttribute('font-size') ?? 0);
  }

  activate(): void {
    const svg = this.#svg;
    const tools = this.#figure.querySelector<HTMLElement>('.tools');
    if (tools) {
      tools.hidden = false;
      tools.addEventListener('click', (event) => {
        const by = (event.target as Element).closest<HTMLElement>('[data-zoom]')?.dataset['zoom'];
        if (by === 'in') this.#zoom(STEP);
        if (by === 'out') this.#zoom(1 / STEP);
        if (by === 'all') this.#show(this.#whole);
      });
    }
    const told = this.#figure.querySelector<HTMLElement>('.told');
    if (told) told.hidden = false;
    svg.setAttribute('tabindex', '0');
    svg.addEventListener('keydown', (event) => this.#key(event));
    svg.addEventListener('wheel', (event) => this.#wheel(event), { passive: false });
    svg.addEventListener('pointerdown', (event) => this.#press(event));
    svg.addEventListener('pointermove', (event) => this.#move(event));
    for (const name of ['pointerup', 'pointercancel'] as const)
      svg.addEventListener(name, (event) => this.#release(event));
    // A drag that ends on a link is no click on it.
    svg.addEventListener('click', (event) => this.#dragged && event.preventDefault(), { capture: true });
    for (const mark of svg.querySelectorAll('a.cut, a.pin')) {
      mark.addEventListener('pointerenter', () => this.#tell(mark));
      mark.addEventListener('focus', () => this.#tell(mark));
      mark.addEventListener('pointerleave', () => mark.classList.remove('under'));
      mark.addEventListener('blur', () => mark.classList.remove('under'));
    }
    // The map shows its own tooltips; without this the browser would show them a second time.
    for (const title of svg.querySelectorAll('a > title')) title.remove();
    this.#show(this.#whole, false);
  }

  #tell(mark: Element): void {
    for (const other of this.#svg.querySelectorAll('.under')) other.classList.remove('under');
    mark.classList.add('under');
    const told = this.#figure.querySelector('.told');
    if (told) told.textContent = mark.getAttribute('aria-label');
  }

  #key(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const { width, height } = this.#view;
    const acts: Record<string, () => void> = {
      '+': () => this.#zoom(STEP),
      '=': () => this.#zoom(STEP),
      '-': () => this.#zoom(1 / STEP),
      '0': () => this.#show(this.#whole),
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
    this.#zoom(STEP ** (-event.deltaY / 240), this.#at(event.clientX, event.clientY));
  }

  #press(event: PointerEvent): void {
    this.#down.set(event.pointerId, { x: event.clientX, y: event.clientY });
    this.#dragged = false;
  }

  #move(event: PointerEvent): void {
    const before = this.#down.get(event.pointerId);
    if (!before) return;
    const now = { x: event.clientX, y: event.clientY };
    const [other] = [...this.#down].filter(([id]) => id !== event.pointerId).map(([, point]) => point);
    if (other) {
      const ratio = Math.hypot(now.x - other.x, now.y - other.y) / Math.hypot(before.x - other.x, before.y - other.y);
      if (Number.isFinite(ratio) && ratio > 0)
        this.#zoom(ratio, this.#at((now.x + other.x) / 2, (now.y + other.y) / 2));
      this.#dragged = true;
    } else {
      if (!this.#dragged && Math.hypot(now.x - before.x, now.y - before.y) < 5) return;
      if (!this.#dragged) this.#svg.setPointerCapture(event.pointerId);
      this.#dragged = true;
      const scale = this.#perPx();
      this.#pan((before.x - now.x) * scale, (before.y - now.y) * scale);
    }
    this.#down.set(event.pointerId, now);
  }

  #release(event: PointerEvent): void {
    this.#down.delete(event.pointerId);
  }

  /** Draws the view anew. */
  #draw(): void {
    const { x, y, width, height } = this.#view;
    this.#drawn = this.#view;
    this.#svg.style.transform = '';
    this.#svg.setAttribute('viewBox', `${x} ${y} ${width} ${height}`);
  }

  /**
   * Moves and scales what is drawn already, as long as the view moves, and draws anew when it rests: a picture of a hundred
   * thousand points is not drawn sixty times a second.
   */
  #slide(): void {
    const svg = this.#svg;
    const drawn = this.#drawn;
    const { scale, left, top } = this.#fit(drawn);
    const by = drawn.width / this.#view.width;
    const dx = left * (1 - by) + (drawn.x - this.#view.x) * scale * by;
    const dy = top * (1 - by) + (drawn.y - this.#view.y) * scale * by;
    svg.style.transform = `translate(${dx}px, ${dy}px) scale(${by})`;
    if (this.#rest !== null) clearTimeout(this.#rest);
    this.#rest = setTimeout(() => this.#show(this.#view, false), REST_MS);
  }

  /** How a view lies in the box of the picture: in the middle, as large as fits. The box itself is never transformed. */
  #fit(view: View): { scale: number; left: number; top: number } {
    const { clientWidth, clientHeight } = this.#svg;
    const scale = Math.min(clientWidth / view.width, clientHeight / view.height) || 1;
    return {
      scale,
      left: (clientWidth - view.width * scale) / 2,
      top: (clientHeight - view.height * scale) / 2,
    };
  }

  /** Units of the picture under one px of the screen. */
  #perPx(): number {
    return 1 / this.#fit(this.#view).scale;
  }

  #at(clientX: number, clientY: number): { x: number; y: number } {
    const { scale, left, top } = this.#fit(this.#view);
    const box = (this.#svg.parentElement ?? this.#svg).getBoundingClientRect();
    return {
      x: this.#view.x + (clientX - box.left - left) / scale,
      y: this.#view.y + (clientY - box.top - top) / scale,
    };
  }

  #zoom(by: number, around?: { x: number; y: number }): void {
    const { x, y, width, height } = this.#view;
    const wider = Math.min(this.#whole.width, Math.max(this.#whole.width / CLOSEST, width / by));
    const ratio = wider / width;
    const centre = around ?? { x: x + width / 2, y: y + height / 2 };
    this.#show({
      x: centre.x - (centre.x - x) * ratio,
      y: centre.y - (centre.y - y) * ratio,
      width: wider,
      height: height * ratio,
    });
  }

  #pan(dx: number, dy: number): void {
    this.#show({ ...this.#view, x: this.#view.x + dx, y: this.#view.y + dy });
  }

  #show(wanted: View, animate = true): void {
    const whole = this.#whole;
    const x = Math.min(whole.x + whole.width - wanted.width, Math.max(whole.x, wanted.x));
    const y = Math.min(whole.y + whole.height - wanted.height, Math.max(whole.y, wanted.y));
    this.#view = { ...wanted, x, y };
    const { width } = this.#view;
    if (this.#heavy && animate) this.#slide();
    else this.#draw();
    // Touch scrolls the page as long as there is nowhere to move to in the map.
    this.#svg.style.touchAction = width < whole.width ? 'none' : 'pan-x pan-y';
    if (this.#heavy && animate) return;
    for (const axes of this.#svg.querySelectorAll('.axes'))
      axes.setAttribute('font-size', String((this.#labels * width) / whole.width));
    this.#sayShown();
    const scale = this.#perPx();
    for (const mark of this.#svg.querySelectorAll<SVGGElement>('.fixed')) {
      mark.setAttribute('transform', `translate(${mark.dataset['x']} ${mark.dataset['y']}) scale(${scale})`);
    }
  }

  /** The axes lie at the edge of the sheet: close up, the part that is shown is said in words. */
  #sayShown(): void {
    const shown = this.#figure.querySelector('.shown');
    const [perMm = 1, left = 0, top = 0, down = 1] = (this.#figure.dataset['map'] ?? '').split(' ').map(Number);
    const { x, y, width, height } = this.#view;
    const span = (from: number, to: number) =>
      `${Math.round(Math.min(from, to) * 10) / 10} to ${Math.round(Math.max(from, to) * 10) / 10}`;
    const across = span(left + x / perMm, left + (x + width) / perMm);
    const along = span(top + (down * y) / perMm, top + (down * (y + height)) / perMm);
    if (shown) shown.textContent = width < this.#whole.width ? `Shown: X ${across}, Y ${along} mm` : '';
  }
}
