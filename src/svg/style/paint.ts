import type { SvgDocument } from '../xml/document.ts';
import type { ComputedStyle } from './computed-style.ts';
import type { Paint } from './properties.ts';

/** What a paint comes to on one element. */
export interface ResolvedPaint {
  /** `#rrggbb`, `paint-server`, or null for nothing. */
  value: string | null;
  /** Name of the gradient or pattern. */
  server: string | null;
  /** A reference that leads nowhere or out of the file. */
  lost: string | null;
}

const SERVERS = new Set(['linearGradient', 'radialGradient', 'pattern']);

/** Resolves currentColor, references and their fallbacks. A paint of no opacity paints nothing. */
export function resolvePaint(
  paint: Paint,
  style: ComputedStyle,
  opacity: number,
  document: SvgDocument,
): ResolvedPaint {
  const nothing: ResolvedPaint = { value: null, server: null, lost: null };
  if (opacity === 0) return nothing;
  switch (paint.kind) {
    case 'none':
    case 'context':
      return nothing;
    case 'current':
      return { ...nothing, value: style.color.alpha === 0 ? null : style.color.hex };
    case 'colour':
      return { ...nothing, value: paint.alpha === 0 ? null : paint.hex };
    case 'server': {
      const target = paint.href.startsWith('#') ? document.byId(paint.href.slice(1)) : null;
      if (target && SERVERS.has(target.tag)) return { value: 'paint-server', server: target.tag, lost: null };
      const fallback = paint.fallback ? resolvePaint(paint.fallback, style, opacity, document) : nothing;
      return { ...fallback, lost: paint.href };
    }
  }
}
