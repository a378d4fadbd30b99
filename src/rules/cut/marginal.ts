import type { Prediction } from '../../facts/cuts/cut-fact.ts';
import { ERROR_BELOW_BY_COUPONS } from '../../facts/cuts/limits.ts';
import { citedBriefly } from '../../facts/evidence/cited-text.ts';
import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { FIRE } from '../cautions.ts';
import { type PredictedCut, provedFirst, throughCuts, unlikelyCuts } from '../predictions.ts';
import { defineRule } from '../rule.ts';
import { roundTo } from '../wording.ts';

export default defineRule({
  id: 'cut/marginal',
  summary: 'A cut may part the sheet, but is not sure enough to.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['prediction', 'toolpath', 'artwork', 'sidecar', 'machine', 'material'],
  searches: ['tasks', 'passes'],
  decides: 'through',
  messages: {
    marginal:
      'The {sheet} is {chance} likely to part in {tasks}, short of {limit}. {remedy} The catalogue ({doubt}) expects a depth of {depth} after {recipe}{published}; {limit} is asked of what no coupon has proved.',
    calibrated:
      'The {sheet} is {chance} likely to part in {tasks}, short of {limit}. {remedy} Predicted depth {depth} after {recipe}; {limit} is asked of a recipe that rests on coupons ({basis}).',
    alike: 'marginal as well',
    begins: 'the cut begins here',
  },
  example:
    'The 3.0 mm birch plywood is 34 % likely to part in task "outline", short of 90 %. Prove it on a coupon, or slow to 20 mm/s. The catalogue (± 54 %) expects a depth of 2.6 mm (1.6–4.1) after 1 pass at 42.7 W, 37.9 mm/s; others cut 3.0 mm in 1 pass at 20 mm/s with 30 W; 90 % is asked of what no coupon has proved.',
  options: {
    from: {
      type: 'number',
      default: 0,
      follows: { rule: 'cut/short-of-through', option: 'below' },
      minimum: 0,
      maximum: 1,
      description:
        'Probability from which a cut is marginal; 0: where cut/short-of-through ends, so that nothing lies between them.',
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
  why: `Such a cut goes through on some sheets and hangs on others: a denser layer, a knot, a slightly thicker corner. One stretch that hangs is enough to spoil the part. Where only the catalogue speaks of the material, what is in doubt is mostly the machine: machines differ by more than sheets do, and a setting that one uses every day another finds too fast. So down to the limit of cut/short-of-through this is a warning and no error, it says what the catalogue expects and what others published of such a cut, and one coupon on the very machine settles more than any number here. Where coupons of this machine and material hold the prediction, the limits are higher: 0.95, and an error below ${ERROR_BELOW_BY_COUPONS}.`,
  remedy:
    'Cut one coupon of this recipe on this very sheet first, or take the change that the finding names. If coupons have shown that it cuts, put them into the machine’s bench file (`kerflint coupon`, then `kerflint calibrate`), or waive the finding with that reason. The hints name the published cuts that come nearest, with their citation and what the catalogue gives them; `kerflint evidence` lists more.',
  sources: [
    'The cut model and what it was held against: docs/model.md',
    'The limits of 0.9 and 0.95: definitions of this project, set so that ordinary good recipes raise no alarm',
    'Where it begins: docs/evidence.md, the error limit',
  ],
  caution: FIRE,
  check(facts, options) {
    const through = throughCuts(facts);
    if ('notApplicable' in through) return through;
    const limitOf = (prediction: Prediction) => (options.limit > 0 ? options.limit : prediction.limit);
    const marginal = through.filter(({ prediction }) => {
      const probability = roundTo(prediction.throughProbability, 3);
      const from = options.from > 0 ? options.from : prediction.errorLimit;
      return probability >= from && probability < limitOf(prediction);
    });
    return unlikelyCuts(facts, marginal, limitOf, said);
  },
});

/** What the shop's own coupons say is put as it is; what only the catalogue says is put beside what others do, and to the proof. */
function said(worst: PredictedCut): Pick<ReportDescriptor, 'messageId' | 'args'> {
  const { cut, prediction } = worst;
  const { basis } = prediction;
  if (basis.startsWith('calibrated')) return { messageId: 'calibrated', args: { basis } };
  const parted = cut.published?.parted ?? null;
  return {
    messageId: 'marginal',
    args: {
      remedy: provedFirst(worst),
      doubt: basis.replace(/^catalogue, /, ''),
      published: parted === null ? '' : `; others cut ${citedBriefly(parted)}`,
    },
  };
}
