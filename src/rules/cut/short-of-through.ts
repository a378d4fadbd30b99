import { FIRE } from '../cautions.ts';
import { throughCuts, unlikelyCuts } from '../predictions.ts';
import { defineRule } from '../rule.ts';
import { roundTo } from '../wording.ts';

export default defineRule({
  id: 'cut/short-of-through',
  summary: 'A cut that must part the sheet will probably not get through.',
  severity: 'error',
  lossByProbability: true,
  since: '0.1.0',
  reads: ['prediction', 'toolpath', 'artwork', 'sidecar', 'machine', 'material'],
  searches: ['tasks', 'passes'],
  decides: 'through',
  messages: {
    short:
      'Predicted depth {depth} of {sheet} after {recipe} in {tasks}: {chance} likely to part it, and below {limit} (rule option `below`) it counts as falling short (basis: {basis}). {remedy}',
    alike: 'falls short as well',
    begins: 'the cut begins here',
  },
  example:
    'Predicted depth 4.7 mm (3.0–7.1) of 6.0 mm birch plywood after 1 pass at 42.8 W, 18 mm/s in task "outline": 17 % likely to part it, and below 50 % (rule option `below`) it counts as falling short (basis: catalogue, ± 54 %). Slow to 7 mm/s.',
  options: {
    below: {
      type: 'number',
      default: 0.5,
      minimum: 0,
      maximum: 1,
      description: 'Probability of parting the sheet below which a cut is said to fall short.',
    },
  },
  why: 'A cut that stops inside the sheet cannot be made good once the sheet has moved: the part is lost, and so is what was paid for sheet, machine and time. A second run by guess chars the edge. The depth is predicted by marching an energy balance down the kerf, with the doubt in material, power, focus and thickness carried along; the range is the 5th to 95th percentile.',
  remedy:
    'Take the change that the finding names; it is the cheapest of those that reach the probability the cut is judged by, within the machine’s ceiling and the material’s clean-speed floor. A few coupons (`kerflint coupon`, then `kerflint calibrate`) narrow the range. If it has already failed, do not move the sheet: see `kerflint diagnose`.',
  sources: [
    'The cut model and what it was held against: docs/model.md',
    'That one half divides falling short from marginal: a definition of this project',
  ],
  caution: FIRE,
  check(facts, options) {
    const through = throughCuts(facts);
    if ('notApplicable' in through) return through;
    const short = through.filter(({ prediction }) => roundTo(prediction.throughProbability, 3) < options.below);
    const limitOf = () => options.below;
    return unlikelyCuts(facts, short, 'short', limitOf, ({ basis }) => ({ basis }));
  },
});
