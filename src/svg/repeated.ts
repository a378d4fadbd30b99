import type { Handles } from '../model/artwork.ts';
import type { Place } from '../source/place.ts';
import type { Matrix } from './frames/matrix.ts';
import type { Measured } from './shapes/measure.ts';
import type { Shape } from './shapes/shapes.ts';
import type { DeclaredStyle } from './style/cascade.ts';
import type { ComputedStyle } from './style/computed-style.ts';
import type { SvgNode } from './xml/svg-node.ts';

/** What a drawn shape comes to wherever it stands: all but its place on the page. */
export interface Look {
  readonly shape: Shape;
  readonly stroke: string | null;
  readonly fill: string | null;
  readonly widthPx: number;
  /** In user space. */
  readonly measured: Measured[];
  readonly handles: Handles;
  readonly place: Place;
}

/** What a `use` element brings in, and where to. */
export interface Brought {
  readonly target: SvgNode;
  readonly move: Matrix;
  /** Sizes that it gives to a `svg` or `symbol`. */
  readonly given: { width: string | null; height: string | null };
}

/** What of an element's surroundings decides what it comes to. */
interface Surroundings {
  readonly style: ComputedStyle;
  readonly viewport: { width: number; height: number };
  readonly layers: readonly string[];
  readonly animated: boolean;
}

/**
 * What an element comes to in the surroundings in which it was met last. A drawing of a few lines can repeat one element a hundred thousand
 * times by `use`: its style, its own transform and its geometry are then worked out once, and only places differ.
 */
export interface Repeated {
  readonly around: Surroundings;
  readonly declared: DeclaredStyle;
  readonly style: ComputedStyle;
  readonly own: Matrix;
  /** Worked out when first asked for. */
  layers: readonly string[] | null;
  look: Look | null;
  brought: Brought | null;
}

/** Properties that make more of an element than style, place and outlines: each such element is worked out anew. */
const NOT_REMEMBERED = ['clip-path', 'mask', 'transform-box', 'animation-name'];

/** The elements that `use` brought in, with what they came to. */
export class RepeatedElements {
  readonly #known = new Map<SvgNode, Repeated>();

  /** What an element comes to; null where it was not met yet in these surroundings. */
  of(node: SvgNode, { style, viewport, layers, animated }: Surroundings): Repeated | null {
    const known = this.#known.get(node);
    if (known === undefined) return null;
    const { around } = known;
    const isSame = around.style === style && around.viewport === viewport && around.layers === layers;
    return isSame && around.animated === animated ? known : null;
  }

  /** Keeps what an element comes to in its surroundings, if that can be kept. */
  keep(
    node: SvgNode,
    { style, viewport, layers, animated }: Surroundings,
    found: Pick<Repeated, 'declared' | 'style' | 'own'>,
  ): Repeated | null {
    if (NOT_REMEMBERED.some((property) => found.declared.has(property))) return null;
    const around = { style, viewport, layers, animated };
    const kept: Repeated = { ...found, around, layers: null, look: null, brought: null };
    this.#known.set(node, kept);
    return kept;
  }
}
