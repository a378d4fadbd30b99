/** Axis-parallel box, mm. */
export interface Box {
  minX: number;
  minY: number;
  maxX: number;
  maxY: number;
}

/** A chain of straight segments, flattened to a stated tolerance: x0, y0, x1, y1, … in mm. */
export interface Polyline {
  xy: Float64Array;
  closed: boolean;
}
