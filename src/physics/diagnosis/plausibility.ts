import type { CauseKind, Observation } from './observation.ts';

/**
 * How plausible a cause is before anything was seen, by where, since when and with what edge it shows, and the usual size of
 * its number (of the logarithm for factors). Common practice, no source.
 */
interface Plausibility {
  before: number;
  usual: number;
  where: Record<NonNullable<Observation['where']>, number>;
  since: Record<NonNullable<Observation['since']>, number>;
  edge: Record<NonNullable<Observation['edge']>, number>;
}

export const PLAUSIBILITY: Record<CauseKind, Plausibility> = {
  'settings-short': {
    before: 1,
    usual: 1,
    where: { everywhere: 1, 'far-corner': 0.2, patches: 0.3 },
    since: { always: 1, gradually: 0.1, suddenly: 0.1, 'this-sheet': 0.3 },
    edge: { clean: 1, charred: 0.7, wide: 0.3 },
  },
  'focus-off': {
    before: 0.8,
    usual: 1.5,
    where: { everywhere: 1, 'far-corner': 0.2, patches: 0.3 },
    since: { always: 0.6, gradually: 0.1, suddenly: 1, 'this-sheet': 0.6 },
    edge: { clean: 0.3, charred: 0.7, wide: 1 },
  },
  'power-weak': {
    before: 0.5,
    usual: 0.25,
    where: { everywhere: 1, 'far-corner': 0.2, patches: 0.1 },
    since: { always: 0.5, gradually: 1, suddenly: 0.3, 'this-sheet': 0.1 },
    edge: { clean: 1, charred: 0.7, wide: 0.3 },
  },
  'mirrors-drifting': {
    before: 0.3,
    usual: 0.25,
    where: { everywhere: 0.1, 'far-corner': 1, patches: 0.1 },
    since: { always: 0.3, gradually: 1, suddenly: 0.7, 'this-sheet': 0.1 },
    edge: { clean: 0.8, charred: 0.8, wide: 0.5 },
  },
  'lens-dirty': {
    before: 0.5,
    usual: 0.3,
    where: { everywhere: 1, 'far-corner': 0.2, patches: 0.1 },
    since: { always: 0.2, gradually: 1, suddenly: 0.7, 'this-sheet': 0.2 },
    edge: { clean: 0.3, charred: 1, wide: 0.8 },
  },
  'material-harder': {
    before: 0.5,
    usual: 0.35,
    where: { everywhere: 0.5, 'far-corner': 0.1, patches: 1 },
    since: { always: 0.4, gradually: 0.1, suddenly: 0.3, 'this-sheet': 1 },
    edge: { clean: 0.5, charred: 1, wide: 0.3 },
  },
  'sheet-bowed': {
    before: 0.4,
    usual: 1,
    where: { everywhere: 0.1, 'far-corner': 0.5, patches: 1 },
    since: { always: 0.1, gradually: 0.1, suddenly: 0.3, 'this-sheet': 1 },
    edge: { clean: 0.5, charred: 0.7, wide: 1 },
  },
  'sheet-thicker': {
    before: 0.3,
    usual: 0.06,
    where: { everywhere: 1, 'far-corner': 0.2, patches: 0.3 },
    since: { always: 0.4, gradually: 0.05, suddenly: 0.3, 'this-sheet': 1 },
    edge: { clean: 1, charred: 0.7, wide: 0.2 },
  },
};
