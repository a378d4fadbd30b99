import * as v from 'valibot';
import { count, date, id, length, powerSetting, quantity, strict, thickness, version, words } from '../yaml/shape.ts';

/** The results sheet of a test piece or a focus ramp, `<name>.results.yaml`: written by kerflint, filled in by hand. */

const tongue = strict({
  tongue: v.optional(count('number of the tongue, as its marks tell it', 1, 10_000)),
  power: powerSetting('power it was cut with, of full power or at the work'),
  speed: quantity('speed', 'speed it was cut with'),
  passes: v.optional(count('passes', 1, 100)),
  focus: v.optional(length("the waist above (+) or below (-) the piece's top face", 'any')),
  'focus-step': v.optional(length('change of focus from one pass to the next', 'any')),
  thickness: v.optional(length('thickness of this piece, where it differs from the rest')),
  through: v.optional(
    v.pipe(
      v.nullable(v.union([v.boolean(), v.picklist(['yes', 'no'])], 'write yes or no, or leave it empty')),
      v.description('did it part: yes or no; left empty, the tongue does not count'),
    ),
  ),
  depth: v.optional(length('measured depth in mm, where it did not part and the depth is known')),
});

const ramp = strict({
  near: length('where the waist was over the face at the notched end, above (+) or below (-) it', 'any'),
  far: length('where it was at the other end', 'any'),
  length: length('length of the ramp'),
  sharpest: v.optional(
    v.nullable(
      v.pipe(
        strict({
          from: v.nullable(
            length('where the line begins to be at its narrowest, from the notched end', 'not-negative'),
          ),
          to: v.nullable(length('where it ceases to be', 'not-negative')),
        }),
        v.description('left empty, the ramp does not count'),
      ),
    ),
  ),
});

export const couponResultsSchema = v.pipe(
  strict({
    kerflint: version,
    machine: id('machine that the test was cut on'),
    lens: v.optional(words('lens that was fitted', 64)),
    material: words('id or alias of the material', 80),
    thickness: thickness('of the piece, measured'),
    at: v.optional(
      v.pipe(
        strict({ x: length('X of its middle', 'any'), y: length('Y of its middle', 'any') }),
        v.description('where on the bed it was cut; left out: in the middle'),
      ),
    ),
    date: v.optional(v.nullable(date('when it was cut'))),
    coupons: v.optional(v.pipe(v.array(tongue), v.maxLength(1000, 'more than 1000 coupons'))),
    ramp: v.optional(ramp),
  }),
  v.title('kerflint test results'),
  v.description('What came of a test piece or a focus ramp, for kerflint calibrate.'),
);

export type CouponResultsText = v.InferOutput<typeof couponResultsSchema>;
