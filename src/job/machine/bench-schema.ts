import * as v from 'valibot';
import { couponEntries } from '../material/coupon-schema.ts';
import { date, id, length, strict, version, words } from '../yaml/shape.ts';

/** What a shop found on its own bench with one machine, `<machine>.bench.yaml`: kept by kerflint calibrate, and by hand. */

const lens = () => id('lens that was fitted, as the profile of the machine calls it');

const ramp = strict({
  lens: lens(),
  offset: length('where the waist stands above (+) or below (-) where the gauge puts it', 'any'),
  spread: length('one standard deviation of it', 'not-negative'),
  date: v.optional(date('when it was cut')),
});

const coupon = strict({
  material: words('id of the material, or another name of it', 80),
  lens: lens(),
  ...couponEntries,
});

export const benchSchema = v.pipe(
  strict({
    kerflint: version,
    machine: id('machine that all of this was cut on; also the file name before .bench.yaml'),
    ramps: v.optional(
      v.pipe(
        v.array(ramp),
        v.maxLength(200, 'more than 200 ramps'),
        v.description('focus offsets that ramps found; the last one of a lens counts'),
      ),
    ),
    coupons: v.optional(
      v.pipe(
        v.array(coupon),
        v.maxLength(5000, 'more than 5000 coupons'),
        v.description('test cuts and what came of them, the newest last'),
      ),
    ),
  }),
  v.title('kerflint bench'),
  v.description('What ramps and coupons told of one machine and its lenses. It counts only from the shop’s folder.'),
);
