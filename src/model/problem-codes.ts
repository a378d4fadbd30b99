/**
 * Problems that any reader of toolpaths may report, because rules of their own judge them. Each has the values that stand beside it.
 * What else a reader cannot take it reports in codes of its own, which its descriptor puts into words.
 */
export const TOOLPATH_PROBLEMS = [
  // {what, text, lines}: a part that could not be followed. what: 'o-word' | 'expression' | 'parameter' | 'subprogram' | 'canned-cycle' |
  // 'spline' | 'extra-axis' | 'output' | 'cutter-compensation' | 'tool-length-offset' | 'unknown-code' | 'setting' | 'too-many-strokes' |
  // 'block-delete'. Motion and beam can be followed all the same past 'passed-over' (a line for the host) and 'motion-limits' (time only).
  'not-analysed',
  // {by, powered, lines}: motion behind the end of the program. by: what ends it ("M2"); powered: 1 where the beam is commanded on, else 0
  'after-end',
  // {text, what, set}: the program sets what the profile states otherwise. what: 'full' (set: the new number for full power) | 'm4' (set: 'constant' | 'scaled-with-speed')
  'other-scale',
  'arc-mismatch', // {startRadiusMm, endRadiusMm, differenceMm, toleranceMm}
  'modal-conflict', // {first, second, group}: two commands of which only one can be in force
  'missing-feed', // {}: a move at the feed with no feed in force
  'zero-feed', // {feed}
  'units-changed', // {from, to, how, first, second}: how: 'after-motion' | 'ahead' (of all motion) | 'mixed' (words of two standards: first, second)
  'wrong-kind', // {kind, evidence}: written for another machine. kind: 'extruder' | 'drill' | 'mill' | 'plasma' | 'plotter'
] as const;
export type ToolpathProblemCode = (typeof TOOLPATH_PROBLEMS)[number];

/** Likewise for readers of artwork. */
export const ARTWORK_PROBLEMS = [
  'no-physical-size', // {pxPerInch, widthMm, heightMm}
  'external-reference', // {href, tag}
  'live-text', // {text}
  'image-linked', // {href}
  'image-embedded', // {type, widthPx, heightPx, widthMm, heightMm, ppi}
  'active-content', // {what}
  'foreign-object',
  'paint-server-stroke', // {paint}
  'hidden', // {why, tag, part}. why: 'display' | 'visibility' | 'opacity' | 'clip' | 'mask' | 'no-paint' | 'condition'
  // (of language or the like). part: 'whole' | 'part' | 'unknown': the shape of clip or mask is not known, and nothing was taken away
  'not-drawable', // {tag}
  'dashed-stroke', // {tag}: kept as one solid line
] as const;
export type ArtworkProblemCode = (typeof ARTWORK_PROBLEMS)[number];
