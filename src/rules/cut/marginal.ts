import type { Prediction } from '../../facts/cuts/cut-fact.ts';
import { throughCuts, unlikelyCuts } from '../predictions.ts';
import { defineRule } from '../rule.ts';
import { roundTo } from '../wording.ts';

export default defineRule({
  id: 'cut/marginal',
  summary: 'A cut will probably part the sheet, but not reliably.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['prediction', 'toolpath', 'artwork', 'sidecar', 'machine', 'material'],
  searches: ['tasks', 'passes'],
  decides: 'through',
  messages: {
    marginal:
      'The {sheet} is {chance} likely to part in {tasks}, short of {limit}. {remedy} Predicted depth {depth} after {recipe}; {limit} is asked of a recipe {basis}.',
    alike: 'marginal as well',
    begins: 'the cut begins here',
  },
  example:
    'The 3.0 mm birch plywood is 84 % likely to part in task "outline", short of 90 %. Slow to 20 mm/s. Predicted depth 3.9 mm (2.4–6.0) after 1 pass at 42.8 W, 23 mm/s; 90 % is asked of a recipe from the catalogue, ± 54 %.',
  options: {
    from: {
      type: 'number',
      default: 0,
      minimum: 0,
      maximum: 1,
      description:
        'Probability from which a cut is marginal; below it cut/short-of-through speaks; 0 takes the one it was predicted for: 0.5.',
    },
    limit: {
      type: 'number',
      default: 0,
      minimum: 0,
      maximum: 1,
      description:
        'Probability that a through cut must reach; 0 takes the one it was predicted for: 0.9, or 0.95 where the recipe rests on coupons.',
    },
  },
  why: 'Such a cut goes through on most sheets and hangs on the rest: a denser layer, a knot, a slightly thicker corner. One stretch that hangs is enough to spoil the part.',
  remedy:
    'Take the change that the finding names, or cut one coupon of this recipe on this very sheet first. If coupons have shown that it cuts, put them into the material (`kerflint calibrate`), or waive the finding with that reason.',
  sources: [
    'The cut model and what it was held against: docs/model.md',
    'The limits of 0.9 and 0.95: definitions of this project, set so that ordinary good recipes raise no alarm',
  ],
  check(facts, options) {
    const through = throughCuts(facts);
    if ('notApplicable' in through) return through;
    const limitOf = (prediction: Prediction) => (options.limit > 0 ? options.limit : prediction.limit);
    const marginal = through.filter(({ prediction }) => {
      const probability = roundTo(prediction.throughProbability, 3);
      const from = options.from > 0 ? options.from : prediction.errorLimit;
      return probability >= from && probability < limitOf(prediction);
    });
    return unlikelyCuts(facts, marginal, 'marginal', limitOf, (prediction) => ({
      basis: prediction.basis.startsWith('calibrated')
        ? `resting on coupons (${prediction.basis})`
        : `from the ${prediction.basis}`,
    }));
  },
});
