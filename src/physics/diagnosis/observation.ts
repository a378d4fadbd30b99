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

export type CauseKind =
  | 'settings-short'
  | 'focus-off'
  | 'power-weak'
  | 'mirrors-drifting'
  | 'lens-dirty'
  | 'material-harder'
  | 'sheet-bowed'
  | 'sheet-thicker';
