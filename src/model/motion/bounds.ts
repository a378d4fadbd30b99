import type { Bounds } from '../toolpath.ts';

/** Bounds of nothing yet: the first point sets them. */
export function emptyBounds(): Bounds {
  const high = Number.POSITIVE_INFINITY;
  return { minX: high, minY: high, minZ: high, maxX: -high, maxY: -high, maxZ: -high };
}

export function widen(bounds: Bounds, x: number, y: number, z: number): void {
  if (x < bounds.minX) bounds.minX = x;
  if (x > bounds.maxX) bounds.maxX = x;
  if (y < bounds.minY) bounds.minY = y;
  if (y > bounds.maxY) bounds.maxY = y;
  if (z < bounds.minZ) bounds.minZ = z;
  if (z > bounds.maxZ) bounds.maxZ = z;
}

/** Null where nothing has set them. */
export function ifAny(bounds: Bounds): Bounds | null {
  return bounds.minX <= bounds.maxX ? bounds : null;
}
