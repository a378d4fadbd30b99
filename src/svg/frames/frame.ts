import type { Region } from '../clipping/clip-region.ts';
import type { Repeated } from '../repeated.ts';
import type { DeclaredStyle } from '../style/cascade.ts';
import type { ComputedStyle } from '../style/computed-style.ts';
import type { SvgNode } from '../xml/svg-node.ts';
import type { Matrix } from './matrix.ts';

/** Targets of the `use` elements that led here. */
export interface UseChain {
  target: SvgNode;
  outer: UseChain | null;
}

/** Regions that cut what is drawn, innermost first. */
export interface ClipChain {
  region: Region;
  outer: ClipChain | null;
}

/** What an element gets from those around it. */
export interface DrawingFrame {
  node: SvgNode;
  /** From the coordinates that the element's own transform stands in, to mm. */
  matrix: Matrix;
  style: ComputedStyle;
  viewport: { width: number; height: number };
  /** The viewport's origin in its own coordinates is always 0, 0: `viewBox` moves it. */
  layers: readonly string[];
  clips: ClipChain | null;
  uses: UseChain | null;
  depth: number;
  /** An animation changes something around it. */
  animated: boolean;
  /** For what a `use` lays out: sizes that it gives to its `svg` or `symbol`. */
  given: { width: string | null; height: string | null } | null;
}

/** An element in its frame with what was worked out about it. */
export interface Visit {
  node: SvgNode;
  declared: DeclaredStyle;
  style: ComputedStyle;
  /** User space to mm. */
  matrix: Matrix;
  frame: DrawingFrame;
  clips: ClipChain | null;
  /** Where `use` repeats the element: what is known of it from the time before. */
  repeated: Repeated | null;
}
