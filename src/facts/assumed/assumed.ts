import type { Lens, Machine } from '../../job/model.ts';
import type { PowerFact } from '../cuts/power.ts';
import type { AssumedFact, AssumedKey } from './assumed-fact.ts';
import { type Answer, narrowing, POWER_KEY } from './narrowing.ts';

/** What the assumptions of a job are found from. */
export interface AssumedInput {
  readonly machine: Machine | null;
  readonly lens: Lens | null;
  readonly power: PowerFact | null;
  /** Coupons of this machine hold its true power and beam. */
  readonly calibratedHere: boolean;
  readonly hasToolpath: boolean;
  /** The prediction that most hangs on; null without one. */
  readonly answer: Answer | null;
}

/** What of a machine was assumed that a job rests on, what is in doubt first. */
export function assumedOf({ machine, lens, power, calibratedHere, hasToolpath, answer }: AssumedInput): AssumedFact {
  if (machine === null) return { keys: [], narrows: null };
  const ofProfile = machine.assumed.filter(({ key }) => concerns(key, lens, hasToolpath));
  const rated: AssumedKey[] =
    power?.basis === 'rated' && !calibratedHere
      ? [{ key: POWER_KEY, value: machine.source.ratedW, unit: 'W', basis: RATED, inDoubt: true }]
      : [];
  const keys = [
    ...rated,
    ...ofProfile.map(
      ({ key, value, unit, basis, spread }): AssumedKey => ({
        key,
        value,
        unit,
        basis,
        inDoubt: spread > 0 && !calibratedHere,
      }),
    ),
  ].sort((a, b) => Number(b.inDoubt) - Number(a.inDoubt));
  return { keys, narrows: calibratedHere || answer === null ? null : narrowing(answer, keys) };
}

const RATED = "the seller's rating, never measured at the work; a source in use brings less";

/** Whether a job under this lens rests on a key: other lenses are not fitted, and artwork knows of no M4. */
function concerns(key: string, lens: Lens | null, hasToolpath: boolean): boolean {
  const [section] = key.split('.');
  if (section === 'controller') return hasToolpath;
  if (section === 'lenses') return lens !== null && key.startsWith(`lenses.${lens.id}.`);
  const onlySpot = key === 'beam.m2' || key === 'source.wavelength';
  return !(onlySpot && lens !== null && lens.spotMm !== null);
}
