import type { FileNote } from '../files/problem.ts';
import type { Machine } from '../model.ts';

/** What of a machine may be tightened from beside a job: `lower` or `higher` says which way is stricter. */
interface Limit {
  name: string;
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
    stricter: 'lower',
    get: (m) => m.source.ceiling,
    set: (m, ceiling) => source(m, { ceiling }),
  },
  {
    name: 'floor',
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
    stricter: 'lower',
    get: (m) => m.motion.speedMmPerS,
    set: (m, speedMmPerS) => motion(m, { speedMmPerS }),
  },
  {
    name: 'speed of rapids',
    stricter: 'lower',
    get: (m) => m.motion.rapidMmPerS,
    set: (m, rapidMmPerS) => motion(m, { rapidMmPerS }),
  },
  {
    name: 'air pressure',
    stricter: 'lower',
    get: (m) => m.air?.maximumBar ?? null,
    set: (m, maximumBar) => ({ ...m, air: { maximumBar } }),
  },
];

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

/**
 * The trusted machine with those limits of an untrusted profile that are stricter. A measured power where the trusted profile
 * has none counts only below the rated power; everything else of the untrusted profile is left aside, and the note says so.
 */
export function tightenMachine(trusted: Machine, beside: Machine): { machine: Machine; note: FileNote } {
  let machine = trusted;
  const counted: string[] = [];
  if (beside.source.kind === trusted.source.kind) {
    for (const limit of LIMITS) {
      const mine = limit.get(beside);
      const theirs =
        limit.get(trusted) ??
        (limit.name === 'measured power' ? (powerAtFull(trusted) ?? trusted.source.ratedW) : null);
      if (mine === null) continue;
      const stricter = theirs === null || (limit.stricter === 'lower' ? mine < theirs : mine > theirs);
      if (!stricter) continue;
      machine = limit.set(machine, mine);
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
