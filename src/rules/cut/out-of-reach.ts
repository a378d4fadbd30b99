import type { JobFacts } from '../../facts/facts.ts';
import type { ProposalFact, Recipe } from '../../facts/recipes/recipe-fact.ts';
import { boundsText, recipeText } from '../../facts/recipes/recipe-text.ts';
import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { formatMm } from '../../units/format.ts';
import { inARow } from '../../units/in-a-row.ts';
import { FIRE } from '../cautions.ts';
import { publishedCuts, publishedHints } from '../predictions.ts';
import { ofCuts, proposals } from '../recipes.ts';
import { defineRule } from '../rule.ts';
import { atStart, formatChance, formatChanceShortOf, formatCount, formatPercent, quoted, sheet } from '../wording.ts';

export default defineRule({
  id: 'cut/out-of-reach',
  summary: 'No recipe that this machine can run is likely enough to part the sheet.',
  severity: 'error',
  since: '0.2.0',
  reads: ['prediction', 'artwork', 'sidecar', 'machine', 'material'],
  searches: ['drawn-lines', 'tasks', 'passes'],
  decides: 'through',
  messages: {
    outOfReach:
      '{sheet} is out of reach of machine {machine} for {tasks}: at best {chance} likely to part. {remedy} The best recipe is {recipe}, held back by {bounds}; below {limit} a sheet counts as out of reach.',
    unsure:
      '{sheet} is at best {chance} likely to part on machine {machine} for {tasks}, short of the {limit} that a recipe is held to. {remedy} The best recipe is {recipe}, held back by {bounds}.',
    alike: 'out of reach as well',
  },
  forCustomers: { outOfReach: [] },
  example:
    '40.0 mm birch plywood is out of reach of machine "shed-60w" for tasks "border", "hole": at best 2 % likely to part. Leave open what the plan fixes (3 passes at 44.8 W (85 %), 4 mm/s, the focus 10.0 mm below the face, with the 4in lens is 12 % likely to part it), cut it as 6 layers of 6.5 mm or take a sheet of 18.0 mm at most or a stronger source. The best recipe is 3 passes at 44.8 W (85 %), 4 mm/s, the focus 8.0 mm below the face, held back by the recommended maximum of 85 %, the clean speed of 4 mm/s, 3 passes at most with this kind of source and the lens that is named; below 14 % a sheet counts as out of reach.',
  options: {
    below: {
      type: 'number',
      default: 0,
      follows: { rule: 'cut/short-of-through', option: 'below' },
      minimum: 0,
      maximum: 1,
      description:
        'Probability of parting the sheet below which a recipe is out of reach; 0: the one below which cut/short-of-through makes any cut an error.',
    },
  },
  why: 'Artwork says where the sheet is to part and nothing of power and speed. Whether any setting does it is known beforehand all the same: the machine has a highest power, the material a speed below which it chars or melts, and passes give less and less. Where even the best of these falls short, no settings that are chosen later will do. What is likely but less than a recipe is held to is a warning.',
  remedy:
    'Take a thinner sheet, stacked if need be, or a stronger source. Where the finding proposes to leave open what is planned, do so and check again.',
  sources: [
    'The cut model and what it was held against: docs/model.md',
    'The most passes that are ordinary for a kind of source: common practice, no source',
    'The limit that divides out of reach from unsure: that of cut/short-of-through',
  ],
  caution: FIRE,
  check(facts, options) {
    const found = proposals(facts);
    if ('notApplicable' in found) return found;
    return found.flatMap((proposal): ReportDescriptor[] => {
      const { surest, proposed, limit, limitedBy } = proposal;
      if (proposed !== null) return [];
      const below = options.below > 0 ? options.below : proposal.errorLimit;
      const short = surest.throughProbability < below;
      const { tasks, ...where } = ofCuts(proposal.cuts, 'alike');
      return [
        {
          messageId: short ? 'outOfReach' : 'unsure',
          severity: short ? 'error' : 'warning',
          args: {
            remedy: remedyOf(proposal, facts, short),
            machine: quoted(facts.machine?.id ?? ''),
            tasks,
            recipe: recipeText(surest, facts.lens?.id ?? null),
            chance: formatChanceShortOf(surest.throughProbability, short ? below : limit),
            sheet: sheet(facts),
            limit: formatPercent(short ? below : limit),
            bounds: boundsText(limitedBy),
          },
          ...where,
          hints: publishedHints(proposal.published),
          data: { surest, limitedBy, published: publishedCuts(proposal.published) },
        },
      ];
    });
  },
});

/** Nothing is advised that is not predicted to be surer. */
function remedyOf({ freed, thinner }: ProposalFact, facts: JobFacts, short: boolean): string {
  const first = [
    ...(short ? [] : ['prove the best recipe on a coupon']),
    ...(freed === null ? [] : [`leave open what the plan fixes (${freedText(freed, facts)})`]),
  ];
  const ways = [...first, ...thinnerText(thinner)];
  return `${atStart(inARow(ways, 'or'))} or a stronger source.`;
}

/** Sheets that the machine is sure to part, in place of this one. */
function thinnerText(thinner: ProposalFact['thinner']): string[] {
  const { stacked, thickestMm } = thinner ?? { stacked: null, thickestMm: null };
  if (thickestMm === null) return ['take a thinner sheet'];
  return [
    ...(stacked === null ? [] : [`cut it as ${formatCount(stacked.layers, 'layer')} of ${formatMm(stacked.layerMm)}`]),
    `take a sheet of ${formatMm(thickestMm)} at most`,
  ];
}

function freedText(freed: Recipe, facts: JobFacts): string {
  return `${recipeText(freed, facts.lens?.id ?? null)} is ${formatChance(freed.throughProbability)} likely to part it`;
}
