import type { FileNote } from '../files/problem.ts';
import type { Machine } from '../model.ts';
import { asStated, assumptionOf } from './assumed.ts';

/** What of a machine may be tightened from beside a job: `lower` or `higher` says which way is stricter. */
interface Limit {
  name: string;
  /** Key of the profile, where a default is taken if it is left out. */
  key?: string;
  stricter: 'lower' | 'higher';
  get(machine: Machine): number | null;
  set(machine: Machine, value: number): Machine;
}

const source = (machine: Machine, change: Partial<Machine['source']>): Machine => ({
  ...machine,
  source: { ...machine.source, ...change },
});
const travel = (machine: Machine, change: Partial<Machine['travel']>): Machine => ({
  ...machine,
  travel: { ...machine.travel, ...change },
});
const motion = (machine: Machine, change: Partial<Machine['motion']>): Machine => ({
  ...machine,
  motion: { ...machine.motion, ...change },
});

const LIMITS: readonly Limit[] = [
  {
    name: 'rated power',
    stricter: 'lower',
    get: (m) => m.source.ratedW,
    set: (m, ratedW) => source(m, { ratedW }),
  },
  {
    name: 'measured power',
    stricter: 'lower',
    get: (m) => m.source.measuredW,
    set: setMeasured,
  },
  {
    name: 'power at the corners',
    stricter: 'lower',
    get: (m) => m.source.atCorners,
    set: (m, atCorners) => source(m, { atCorners }),
  },
  {
    name: 'ceiling',
    key: 'source.ceiling',
    stricter: 'lower',
    get: (m) => m.source.ceiling,
    set: (m, ceiling) => source(m, { ceiling }),
  },
  {
    name: 'floor',
    key: 'source.floor',
    stricter: 'higher',
    get: (m) => m.source.floor,
    set: (m, floor) => source(m, { floor }),
  },
  {
    name: 'travel along X',
    stricter: 'lower',
    get: (m) => m.travel.xMm,
    set: (m, xMm) => travel(m, { xMm }),
  },
  {
    name: 'travel along Y',
    stricter: 'lower',
    get: (m) => m.travel.yMm,
    set: (m, yMm) => travel(m, { yMm }),
  },
  {
    name: 'cutting speed',
    key: 'motion.speed',
    stricter: 'lower',
    get: (m) => m.motion.speedMmPerS,
    set: (m, speedMmPerS) => motion(m, { speedMmPerS }),
  },
  {
    name: 'speed of rapids',
    key: 'motion.rapid',
    stricter: 'lower',
    get: (m) => m.motion.rapidMmPerS,
    set: (m, rapidMmPerS) => motion(m, { rapidMmPerS }),
  },
  {
    name: 'air pressure',
    stricter: 'lower',
    get: (m) => m.air?.maximumBar ?? null,
    set: (m, maximumBar) => ({ ...m, air: { switched: m.air?.switched ?? null, maximumBar } }),
  },
];

/** What a profile leaves open and was assumed for it tightens nothing. */
function isStated(machine: Machine, { key }: Limit): boolean {
  return key === undefined || assumptionOf(machine, key) === null;
}

/** What is known of the power at full setting; null when only the rated power is. */
function powerAtFull(machine: Machine): number | null {
  return machine.source.measuredW ?? machine.source.curve?.at(-1)?.watts ?? null;
}

/** A lower reading at full setting lowers the whole curve. */
function setMeasured(machine: Machine, measuredW: number): Machine {
  const before = powerAtFull(machine);
  const curve =
    before === null || machine.source.curve === null
      ? machine.source.curve
      : machine.source.curve.map((point) => ({ ...point, watts: (point.watts * measuredW) / before }));
  return source(machine, { measuredW, curve });
}

/** What a profile beside the job states of a limit; null where it states none, or none that is stricter. */
function stricterIn(beside: Machine, trusted: Machine, limit: Limit): number | null {
  const mine = isStated(beside, limit) ? limit.get(beside) : null;
  const isPower = limit.name === 'measured power';
  const theirs = limit.get(trusted) ?? (isPower ? (powerAtFull(trusted) ?? trusted.source.ratedW) : null);
  if (mine === null || theirs === null) return mine;
  return (limit.stricter === 'lower' ? mine < theirs : mine > theirs) ? mine : null;
}

/**
 * The trusted machine with those limits of an untrusted profile that are stricter. A measured power where the trusted profile
 * has none counts only below the rated power; everything else of the untrusted profile is left aside, and the note says so.
 */
export function tightenMachine(trusted: Machine, beside: Machine): { machine: Machine; note: FileNote } {
  let machine = trusted;
  const counted: string[] = [];
  if (beside.source.kind === trusted.source.kind) {
    for (const limit of LIMITS) {
      const value = stricterIn(beside, trusted, limit);
      if (value === null) continue;
      machine = limit.set(limit.key === undefined ? machine : asStated(machine, limit.key), value);
      counted.push(limit.name);
    }
  }
  const what =
    counted.length === 0
      ? 'nothing in it is stricter, so it is left aside'
      : `it counts only where it is stricter: ${counted.join(', ')}`;
  const text = `the shop's profile of "${trusted.id}" (${trusted.file}) stands over ${beside.file}: ${what}`;
  return { machine, note: { place: beside.placeOf(['id']), text } };
}
