import { mapMarks } from '../report/pictures/map-marks.ts';
import { headBox, pinShape } from '../report/pictures/map-pins.ts';
import type { PageMap } from '../report/pictures/map-plan.ts';
import { toPx } from '../report/pictures/map-rulers.ts';
import { pinTurns } from '../report/pictures/pin-turns.ts';
import type { PartView } from './map-window.ts';

/** Size of the letters on the map, px. */
const FONT_PX = 12;
/** Pins are drawn at this share of the size they are written in. */
const PIN_SCALE = 0.75;

/** Where the picture lies in its box: px per unit, and what is left free at its left and its top. */
export interface Fit {
  readonly scale: number;
  readonly left: number;
  readonly top: number;
}

/** Scales, names and numbers over a map, written anew for each view so that they stay readable and off each other. */
export class MapOverlay {
  readonly #svg: SVGSVGElement;
  readonly #map: PageMap;
  readonly #layer: SVGSVGElement;
  /** What is pointed out, in units of the picture. */
  ringed: PartView | null = null;

  constructor(svg: SVGSVGElement, map: PageMap) {
    this.#svg = svg;
    this.#map = map;
    this.#layer = document.createElementNS('http://www.w3.org/2000/svg', 'svg');
    this.#layer.setAttribute('class', 'pic marks');
    this.#layer.setAttribute('aria-hidden', 'true');
    svg.after(this.#layer);
  }

  /** Writes the marks of a view; the picture fills its box but for what `fit` leaves free. */
  draw(view: PartView, fit: Fit): void {
    const { clientWidth, clientHeight } = this.#svg;
    const { plan, perMm } = this.#map;
    // In a part of the page that is not shown there is nothing to lay out.
    if (clientWidth === 0 || clientHeight === 0) return;
    this.#layer.setAttribute('viewBox', `0 0 ${clientWidth} ${clientHeight}`);
    const taken = this.#turnPins(view, fit);
    // The box shows a little more than the view where their shapes differ: the marks fill all of it.
    const left = view.x - fit.left / fit.scale;
    const top = view.y - fit.top / fit.scale;
    const right = left + clientWidth / fit.scale;
    const bottom = top + clientHeight / fit.scale;
    const [minX, maxX] = [this.#mmX(left), this.#mmX(right)];
    const [low, high] = plan.yUp ? [bottom, top] : [top, bottom];
    const shown = {
      minX,
      maxX,
      minY: this.#mmY(low),
      maxY: this.#mmY(high),
      pxPerMm: fit.scale * perMm,
      yUp: plan.yUp,
    };
    const { scales, numbers } = mapMarks(plan, shown, { fontPx: FONT_PX, growth: 1, inside: true, taken });
    // What is written was escaped where it was put together.
    this.#layer.innerHTML = `<g font-size="${FONT_PX}">${this.#ring(view, fit)}${numbers}${scales}</g>`;
  }

  /** Pins keep their size on the screen, and their heads off each other. */
  #turnPins(view: PartView, fit: Fit): ReturnType<typeof headBox>[] {
    const marks = [...this.#svg.querySelectorAll<SVGGElement>('.pin .fixed')];
    const tips = marks.map((mark) => ({
      x: (Number(mark.dataset['x']) - view.x) * fit.scale + fit.left,
      y: (Number(mark.dataset['y']) - view.y) * fit.scale + fit.top,
    }));
    const turns = pinTurns(tips);
    return marks.flatMap((mark, i) => {
      const turn = turns[i] ?? null;
      const { x, y } = mark.dataset;
      mark.setAttribute('transform', `translate(${x} ${y}) scale(${PIN_SCALE / fit.scale})`);
      mark.innerHTML = pinShape(numberIn(mark.parentElement?.id ?? ''), turn);
      return turn === null ? [] : [headBox(tips[i]!, turn)];
    });
  }

  #ring(view: PartView, fit: Fit): string {
    if (this.ringed === null) return '';
    const { x, y, width, height } = this.ringed;
    const half = (mm: number) => Math.max(12, (mm * fit.scale) / 2 + 7);
    const cx = (x + width / 2 - view.x) * fit.scale + fit.left;
    const cy = (y + height / 2 - view.y) * fit.scale + fit.top;
    const box = `x="${cx - half(width)}" y="${cy - half(height)}" width="${2 * half(width)}" height="${2 * half(height)}" rx="10"`;
    return `<rect class="p-halo" ${box}/><rect class="p-ring" ${box}/>`;
  }

  #mmX(unit: number): number {
    return this.#map.view.minX + unit / this.#map.perMm;
  }

  #mmY(unit: number): number {
    const { view, perMm, plan } = this.#map;
    return plan.yUp ? view.maxY - unit / perMm : view.minY + unit / perMm;
  }
}

/** A place or box of the job in units of its picture. */
export function partOf(
  { view, perMm, plan }: PageMap,
  box: { minX: number; minY: number; maxX: number; maxY: number },
): PartView {
  const corner = toPx({ ...view, pxPerMm: perMm, yUp: plan.yUp }, box.minX, plan.yUp ? box.maxY : box.minY);
  return { ...corner, width: (box.maxX - box.minX) * perMm, height: (box.maxY - box.minY) * perMm };
}

/** The number at the end of an id, behind its last hyphen. */
const numberIn = (id: string): number => Number(id.slice(id.lastIndexOf('-') + 1));
