import type { ArtworkGeometry } from './geometry-facts.ts';
import type { View } from './through-lines.ts';

export function websOf(_view: View, _kerfMm: number | null): ArtworkGeometry['webs'] {
  return [];
}
export function narrowOf(_view: View, _kerfMm: number | null): ArtworkGeometry['narrow'] {
  return [];
}
export function jointsOf(_view: View): ArtworkGeometry['joints'] {
  return [];
}
