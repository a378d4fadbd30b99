import type { Box, Polyline } from '../geometry/outline.ts';

/** One painted shape of a region, in mm. */
export interface RegionLayer {
  contours: Polyline[];
  rule: 'nonzero' | 'evenodd';
  /** Whether what lies under it shows: a black shape in a mask hides. */
  shows: boolean;
}

/** Where something shows: the topmost layer over a point decides, and outside all layers nothing shows. */
export interface Region {
  why: 'clip' | 'mask';
  layers: RegionLayer[];
  box: Box | null;
}
