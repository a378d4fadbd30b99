import type { Prediction } from '../../facts/cuts/cut-fact.ts';
import { ERROR_BELOW_BY_CATALOGUE } from '../../facts/cuts/error-below-by-catalogue.ts';
import { ERROR_BELOW_BY_COUPONS } from '../../facts/cuts/limits.ts';
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
      'The {sheet} is {chance} likely to part in {tasks}. {remedy} Predicted depth {depth} after {recipe}; below {limit} it counts as falling short (basis: {basis}).',
    alike: 'falls short as well',
    begins: 'the cut begins here',
  },
  example:
    'The 3.0 mm birch plywood is 66 % likely to part in task "outline". Slow to 20 mm/s. Predicted depth 3.4 mm (2.1–5.2) after 1 pass at 42.8 W, 28 mm/s; below 80 % it counts as falling short (basis: catalogue, ± 54 %).',
  options: {
    below: {
      type: 'number',
      default: 0,
      minimum: 0,
      maximum: 1,
      description: `Probability of parting the sheet below which a cut is said to fall short, whatever it rests on; 0: by what it rests on, ${ERROR_BELOW_BY_CATALOGUE} where only the catalogue speaks of the material and ${ERROR_BELOW_BY_COUPONS} where coupons of this machine do.`,
    },
  },
  why: 'A cut that stops inside the sheet cannot be made good once the sheet has moved: the part is lost, and so is what was paid for sheet, machine and time. A second run by guess chars the edge. The depth is predicted by marching an energy balance down the kerf, with the doubt in material, power, focus and thickness carried along; the range is the 5th to 95th percentile. An error stops a job, so it must rest on more than a catalogue’s median: with nothing else to go by it is one only below the limit at which hardly any setting that shops use every day would be refused, on machines that the catalogue has not seen. Coupons of the machine and the material narrow the doubt to the sheet itself; then what is less likely than not to part is an error. What is likelier than that, but not sure, is cut/marginal.',
  remedy:
    'Take the change that the finding names; it is the cheapest of those that reach the probability the cut is judged by, within the machine’s ceiling and the material’s clean-speed floor. A few coupons (`kerflint coupon`, then `kerflint calibrate`) narrow the range. If it has already failed, do not move the sheet: see `kerflint diagnose`.',
  sources: [
    'The cut model and what it was held against: docs/model.md',
    'The limit where only the catalogue speaks: the highest at which at most one daily setting in twenty falls below, found with its source left out (docs/evidence.md)',
    'That one half is the limit where coupons speak: a definition of this project',
  ],
  caution: FIRE,
  check(facts, options) {
    const through = throughCuts(facts);
    if ('notApplicable' in through) return through;
    const limitOf = (prediction: Prediction) => (options.below > 0 ? options.below : prediction.errorLimit);
    const short = through.filter(({ prediction }) => roundTo(prediction.throughProbability, 3) < limitOf(prediction));
    return unlikelyCuts(facts, short, limitOf, ({ prediction: { basis } }) => ({
      messageId: 'short',
      args: { basis },
    }));
  },
});
