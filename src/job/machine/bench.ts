import type { Source } from '../../source/source.ts';
import { BENCH_SUFFIX, stem } from '../files/paths.ts';
import type { Loaded } from '../files/problem.ts';
import { checkCoupons, cutAndSeen } from '../material/coupon-schema.ts';
import type { Bench } from '../model.ts';
import { load } from '../yaml/check.ts';
import { benchSchema } from './bench-schema.ts';

/** Room for years of coupons. */
const LIMIT_BYTES = 1024 * 1024;

/** Reads a `*.bench.yaml`. Problems carry their place; the value is null when there are any. */
export function readBench(source: Source): Loaded<Bench> {
  return load(source, benchSchema, LIMIT_BYTES, (said, placeOf, report) => {
    const name = stem(source.name, BENCH_SUFFIX);
    if (said.machine !== name) {
      report(['machine'], `the machine is "${said.machine}" and the file is called "${name}": make them the same`);
    }
    const coupons = said.coupons ?? [];
    checkCoupons(coupons, report);
    return {
      id: said.machine,
      file: source.name,
      ramps: (said.ramps ?? []).map(({ lens, offset, spread, date }) => ({
        lens,
        offsetMm: offset,
        spreadMm: spread,
        date: date ?? null,
      })),
      coupons: coupons.map((one) => ({
        ...cutAndSeen(one),
        machine: said.machine,
        lens: one.lens,
        material: one.material,
      })),
      placeOf,
    };
  });
}
