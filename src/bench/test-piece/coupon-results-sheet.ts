import { writtenMm, writtenPercent, writtenSpeed } from '../../units/written.ts';
import { editorLine, oneLine, remarked, yamlText } from '../commented-yaml.ts';
import type { CouponPlan } from './coupon-plan.ts';
import { dateLine, type PieceRequest, passLines, pieceCautions, setUpLines } from './piece-files.ts';

/**
 * The sheet in which a person writes down which tongues parted; the places to fill in are empty.
 * @param at where on the bed the middle of the piece lies.
 */
export function couponResults(request: PieceRequest, plan: CouponPlan, at: { xMm: number; yMm: number }): string {
  const pass = Object.fromEntries(passLines(plan));
  return yamlText([
    ...editorLine(request.schemas, 'coupon-results'),
    'Fill in, then: kerflint calibrate <this file>',
    'Behind each "through:" write yes (it parted) or no. Where it did not part and you can measure how deep it is,',
    'write "depth: 2.1 mm" in place of "through:". A tongue that is left empty does not count.',
    'Keep this sheet: the piece itself bears machine, lens, material, thickness and date, and here is what each tongue was cut with.',
    ...pieceCautions(request.material),
    ...setUpLines(request, 'measure this piece, and correct it'),
    ['at', remarked(oneLine({ x: writtenMm(at.xMm), y: writtenMm(at.yMm) }), 'where on the bed the piece lay')],
    dateLine(request),
    [
      'coupons',
      plan.tongues.map((tongue) =>
        oneLine({
          tongue: tongue.number,
          power: writtenPercent(tongue.setting),
          speed: writtenSpeed(tongue.speedMmPerS),
          ...pass,
          through: null,
        }),
      ),
    ],
  ]);
}
