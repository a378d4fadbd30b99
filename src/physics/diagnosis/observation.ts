/** What a person saw after a cut that did not go through; null where it was not said. */
export interface Observation {
  /** Depth reached; null: it did not part, and nobody measured. */
  depthMm: number | null;
  where: 'everywhere' | 'far-corner' | 'patches' | null;
  /** Width of the kerf at the top. */
  kerfMm: number | null;
  since: 'always' | 'gradually' | 'suddenly' | 'this-sheet' | null;
  edge: 'clean' | 'charred' | 'wide' | null;
}

/** What is named, each with one check at the machine; `settings-short` is that nothing is wrong but that they were never enough. */
export type CauseKind =
  | 'settings-short'
  | 'air-low'
  | 'panel-changed'
  | 'focus-off'
  | 'lens-at-fault'
  | 'lens-wrong'
  | 'source-weak'
  | 'mirrors-drifting'
  | 'bed-out-of-level'
  | 'sheet-bowed'
  | 'sheet-thicker'
  | 'sheet-other'
  | 'glue';

/** What may have gone wrong: faults that one check shows are one cause. */
export type FaultKind =
  | Exclude<CauseKind, 'lens-at-fault' | 'sheet-other'>
  | 'lens-dirty'
  | 'lens-cracked'
  | 'lens-upside-down'
  | 'sheet-denser'
  | 'material-wrong';

/** What the size of a fault counts: a factor on power or on removal energy, or a length in mm. */
export type Quantity =
  | 'powerFactor'
  | 'removalFactor'
  | 'focusOffMm'
  | 'bowMm'
  | 'tiltMm'
  | 'thickerMm'
  | 'waistLowerMm';

/** How large a fault is found in practice. */
export interface Range {
  quantity: Quantity;
  /** The smallest that anyone would call a fault. */
  mild: number;
  /** The largest that is met: the cause is named with no number beyond it. */
  worst: number;
  /** The size up to which most are; of the logarithm for factors. Larger ones are rarer, see {@link sizeDensity}. */
  usual: number;
}
