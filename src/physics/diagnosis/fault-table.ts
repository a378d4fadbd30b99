import type { CauseKind, FaultKind, Observation, Range } from './observation.ts';

/**
 * What is believed of a fault before it is weighed against the depth. The odds, and how often it shows where, since when and with what edge,
 * are memory: no counts of such faults were found. They say in which order to look, no more.
 */
export interface FaultEntry {
  /** The cause that it is named as. */
  cause: CauseKind;
  /** Odds against the other faults before anything was seen; of `lens-wrong` for each other lens that the machine has (memory). */
  before: number;
  /** Null where it has no size of its own, or one that hangs on sheet or lens: ways.ts has it. */
  size: Range | null;
  /** Where the size comes from. */
  sizeSource: string;
  /** How often it shows so, the shares of each adding up to 1 (memory). */
  where: Record<NonNullable<Observation['where']>, number>;
  since: Record<NonNullable<Observation['since']>, number>;
  edge: Record<NonNullable<Observation['edge']>, number>;
}

/** Minutes that the check of a cause takes at the machine (memory). */
export const CHECK_MINUTES: Record<CauseKind, number> = {
  'air-low': 1,
  'panel-changed': 1,
  'focus-off': 2,
  'sheet-bowed': 2,
  'sheet-thicker': 2,
  'bed-out-of-level': 3,
  'lens-wrong': 2,
  'sheet-other': 3,
  'lens-at-fault': 3,
  glue: 10,
  'mirrors-drifting': 5,
  'source-weak': 10,
  'settings-short': 15,
};

const where = (everywhere: number, farCorner: number, patches: number): FaultEntry['where'] => ({
  everywhere,
  'far-corner': farCorner,
  patches,
});
const since = (always: number, gradually: number, suddenly: number, thisSheet: number): FaultEntry['since'] => ({
  always,
  gradually,
  suddenly,
  'this-sheet': thisSheet,
});
const edge = (clean: number, charred: number, wide: number): FaultEntry['edge'] => ({ clean, charred, wide });

/** Thickness that sheet is sold with above its nominal one: so much of it and so many mm (memory: ISO 7823-1, cast acrylic sheet). */
export const THICKNESS_TOLERANCE = { share: 0.1, mm: 0.4 };

/**
 * How much lower the waist of a lens lies that was turned over on its ledge, by shape. Derived: rays by Snell's law through lenses 2 to 4 mm
 * thick and 18 to 20 mm wide of 1.5 to 4 in (tests/outside/lens-upside-down.test.ts); those sizes are memory.
 */
export const UPSIDE_DOWN_LOWER_MM = {
  'plano-convex': { mild: 1.1, worst: 2.7, usual: 2 },
  meniscus: { mild: 2.4, worst: 5.6, usual: 4 },
};

export const FAULTS: Record<FaultKind, FaultEntry> = {
  'settings-short': {
    cause: 'settings-short',
    before: 1,
    size: null,
    sizeSource: 'the doubt of the prediction (model.md)',
    where: where(0.8, 0.1, 0.1),
    since: since(0.7, 0.05, 0.05, 0.2),
    edge: edge(0.5, 0.3, 0.2),
  },
  'air-low': {
    cause: 'air-low',
    before: 0.6,
    size: { quantity: 'removalFactor', mild: 1.1, worst: 2.5, usual: 0.4 },
    sizeSource: 'memory: no measurement of ours or published that we know',
    where: where(0.85, 0.05, 0.1),
    since: since(0.1, 0.15, 0.65, 0.1),
    edge: edge(0.1, 0.8, 0.1),
  },
  'panel-changed': {
    cause: 'panel-changed',
    before: 0.25,
    size: { quantity: 'powerFactor', mild: 0.9, worst: 0.1, usual: 0.7 },
    sizeSource: 'common practice: whatever a knob or a limit can be left at',
    where: where(0.94, 0.03, 0.03),
    since: since(0.05, 0.05, 0.85, 0.05),
    edge: edge(0.7, 0.2, 0.1),
  },
  'focus-off': {
    cause: 'focus-off',
    before: 0.8,
    size: { quantity: 'focusOffMm', mild: 0.3, worst: 10, usual: 1.5 },
    sizeSource: 'memory: from a gauge held askew to one set on another sheet',
    where: where(0.8, 0.1, 0.1),
    since: since(0.15, 0.05, 0.5, 0.3),
    edge: edge(0.1, 0.3, 0.6),
  },
  'lens-dirty': {
    cause: 'lens-at-fault',
    before: 0.8,
    size: { quantity: 'powerFactor', mild: 0.97, worst: 0.4, usual: 0.3 },
    sizeSource: 'memory: with more than that on it a lens breaks before long',
    where: where(0.9, 0.06, 0.04),
    since: since(0.05, 0.7, 0.2, 0.05),
    edge: edge(0.1, 0.55, 0.35),
  },
  'lens-cracked': {
    cause: 'lens-at-fault',
    before: 0.15,
    size: { quantity: 'powerFactor', mild: 0.9, worst: 0.2, usual: 0.6 },
    sizeSource: 'memory: from a burnt spot to one that lets little light through',
    where: where(0.9, 0.06, 0.04),
    since: since(0.05, 0.1, 0.8, 0.05),
    edge: edge(0.1, 0.4, 0.5),
  },
  'lens-upside-down': {
    cause: 'lens-at-fault',
    before: 0.1,
    size: null,
    sizeSource: 'derived: rays through the turned lens; its thickness and width are memory',
    where: where(0.9, 0.05, 0.05),
    since: since(0.25, 0.05, 0.65, 0.05),
    edge: edge(0.1, 0.25, 0.65),
  },
  'lens-wrong': {
    cause: 'lens-wrong',
    before: 0.15,
    size: null,
    sizeSource: 'the other lenses of the profile, focused anew or not',
    where: where(0.9, 0.05, 0.05),
    since: since(0.1, 0.05, 0.8, 0.05),
    edge: edge(0.1, 0.2, 0.7),
  },
  'source-weak': {
    cause: 'source-weak',
    before: 0.4,
    size: { quantity: 'powerFactor', mild: 0.97, worst: 0.5, usual: 0.22 },
    sizeSource:
      'memory: makers count a source as spent at 80 %, and it is used beyond that; by the catalogue, a published worn machine had less than 55 % of its rating (evidence.md, r121)',
    where: where(0.9, 0.06, 0.04),
    since: since(0.2, 0.7, 0.08, 0.02),
    edge: edge(0.6, 0.3, 0.1),
  },
  'mirrors-drifting': {
    cause: 'mirrors-drifting',
    before: 0.3,
    size: { quantity: 'powerFactor', mild: 0.95, worst: 0.05, usual: 0.25 },
    sizeSource: 'memory: up to a beam that all but misses the lens',
    where: where(0.1, 0.85, 0.05),
    since: since(0.15, 0.5, 0.3, 0.05),
    edge: edge(0.5, 0.25, 0.25),
  },
  'bed-out-of-level': {
    cause: 'bed-out-of-level',
    before: 0.2,
    size: { quantity: 'tiltMm', mild: 0.5, worst: 5, usual: 1 },
    sizeSource: 'memory: a bed on four screws',
    where: where(0.1, 0.8, 0.1),
    since: since(0.5, 0.1, 0.35, 0.05),
    edge: edge(0.1, 0.3, 0.6),
  },
  'sheet-bowed': {
    cause: 'sheet-bowed',
    before: 0.4,
    size: { quantity: 'bowMm', mild: 0.5, worst: 8, usual: 1.5 },
    sizeSource: 'memory: thin plywood lies so',
    where: where(0.1, 0.25, 0.65),
    since: since(0.05, 0.1, 0.05, 0.8),
    edge: edge(0.15, 0.3, 0.55),
  },
  'sheet-thicker': {
    cause: 'sheet-thicker',
    before: 0.3,
    size: null,
    sizeSource: 'memory: ISO 7823-1 lets cast acrylic be a tenth and 0.4 mm thicker than it is called',
    where: where(0.7, 0.1, 0.2),
    since: since(0.1, 0.02, 0.08, 0.8),
    edge: edge(0.6, 0.3, 0.1),
  },
  glue: {
    cause: 'glue',
    before: 0.3,
    size: { quantity: 'removalFactor', mild: 1.2, worst: 3, usual: 0.45 },
    sizeSource: 'memory: a knot or a phenolic glue line chars before it parts',
    where: where(0.15, 0.05, 0.8),
    since: since(0.08, 0.02, 0.1, 0.8),
    edge: edge(0.1, 0.8, 0.1),
  },
  'sheet-denser': {
    cause: 'sheet-other',
    before: 0.3,
    size: { quantity: 'removalFactor', mild: 1.05, worst: 1.5, usual: 0.15 },
    sizeSource: 'sheets of one material differ by 15 % (1σ, evidence.md); up to nearly three of those',
    where: where(0.6, 0.05, 0.35),
    since: since(0.1, 0.05, 0.1, 0.75),
    edge: edge(0.3, 0.6, 0.1),
  },
  'material-wrong': {
    cause: 'sheet-other',
    before: 0.15,
    size: null,
    sizeSource: 'what the catalogue and the shop say of sheets that look alike',
    where: where(0.9, 0.05, 0.05),
    since: since(0.1, 0.05, 0.1, 0.75),
    edge: edge(0.35, 0.45, 0.2),
  },
};
