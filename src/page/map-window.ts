/** A part of a picture, in its units, Y down. */
export interface PartView {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** The closest look: so many times as large as the whole picture at first. */
const CLOSEST = 100;
/** What lies within this share of the edge is not well in view. */
const EDGE = 0.04;

/** Which part of a map is shown in its box, and how far one may go: from the whole bed down to a hundredth of the sheet. */
export class MapWindow {
  /** What is shown at first. */
  readonly first: PartView;
  /** The most that can be shown. */
  readonly most: PartView;
  shown: PartView;

  /** @param beyond what may be shown besides, for instance the bed; it is given the shape of the first view. */
  constructor(first: PartView, beyond: PartView | null) {
    this.first = first;
    this.most = beyond === null ? first : shapedLike(first, union(first, beyond));
    this.shown = first;
  }

  /** By a factor, with a place that stays where it is; the middle without one. */
  zoom(by: number, around?: { x: number; y: number }): void {
    const { x, y, width, height } = this.shown;
    const wider = Math.min(this.most.width, Math.max(this.first.width / CLOSEST, width / by));
    const ratio = wider / width;
    const centre = around ?? { x: x + width / 2, y: y + height / 2 };
    this.show({
      x: centre.x - (centre.x - x) * ratio,
      y: centre.y - (centre.y - y) * ratio,
      width: wider,
      height: height * ratio,
    });
  }

  pan(dx: number, dy: number): void {
    this.show({ ...this.shown, x: this.shown.x + dx, y: this.shown.y + dy });
  }

  /** A part with some room around it, as large as fits. */
  fit(part: PartView, room = 0.08): void {
    const least = this.first.width / CLOSEST;
    const around = Math.max(part.width, part.height, least) * room;
    const wider = {
      x: part.x - around,
      y: part.y - around,
      width: part.width + 2 * around,
      height: part.height + 2 * around,
    };
    this.show(shapedLike(this.first, wider, least));
  }

  /** Moves until a part that is not in view is in the middle, and stands back from it where it is too large for that. */
  bringIn(part: PartView): void {
    const { x, y, width, height } = this.shown;
    const inside =
      part.x > x + width * EDGE &&
      part.y > y + height * EDGE &&
      part.x + part.width < x + width * (1 - EDGE) &&
      part.y + part.height < y + height * (1 - EDGE);
    if (inside) return;
    if (part.width > width * 0.8 || part.height > height * 0.8) this.fit(part);
    else this.show({ ...this.shown, x: part.x + (part.width - width) / 2, y: part.y + (part.height - height) / 2 });
  }

  show({ x, y, width, height }: PartView): void {
    const { most } = this;
    // As close as one may come, a picture has the shape of the first; and never more is shown than there is.
    const shrink = Math.min(1, most.width / width);
    const [w, h] = [width * shrink, height * shrink];
    this.shown = {
      x: Math.min(most.x + most.width - w, Math.max(most.x, x)),
      y: Math.min(most.y + most.height - h, Math.max(most.y, y)),
      width: w,
      height: h,
    };
  }
}

function union(a: PartView, b: PartView): PartView {
  const x = Math.min(a.x, b.x);
  const y = Math.min(a.y, b.y);
  return {
    x,
    y,
    width: Math.max(a.x + a.width, b.x + b.width) - x,
    height: Math.max(a.y + a.height, b.y + b.height) - y,
  };
}

/** The least part of one shape that holds another, with it in the middle. */
function shapedLike(shape: PartView, part: PartView, least = 0): PartView {
  const ratio = shape.height / shape.width;
  const width = Math.max(part.width, part.height / ratio, least);
  const height = width * ratio;
  return { x: part.x - (width - part.width) / 2, y: part.y - (height - part.height) / 2, width, height };
}
