import { recipeText } from '../../facts/recipes/recipe-text.ts';
import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { FIRE } from '../cautions.ts';
import { ofCuts, proposals } from '../recipes.ts';
import { defineRule } from '../rule.ts';
import { formatChance, formatPercent, quoted, sheet } from '../wording.ts';

export default defineRule({
  id: 'cut/proposed',
  summary: 'Settings are not planned, and this machine has a recipe that is likely to part the sheet.',
  severity: 'note',
  since: '0.2.0',
  reads: ['prediction', 'artwork', 'sidecar', 'machine', 'material'],
  searches: ['drawn-lines', 'tasks', 'passes'],
  decides: 'through',
  messages: {
    proposed:
      'Power and speed are not both planned for {tasks}. Plan {recipe}: {chance} likely to part {sheet} on machine {machine} ({limit} is asked of a recipe). Nothing is said of other settings.',
    alike: 'the same settings are proposed here',
  },
  example:
    'Power and speed are not both planned for tasks "border", "hole". Plan 1 pass at 44.8 W (85 %), 23 mm/s, the focus 1.0 mm below the face: 92 % likely to part 3.0 mm birch plywood on machine "shed-60w" (90 % is asked of a recipe). Nothing is said of other settings.',
  options: {},
  why: 'Artwork alone says nothing of power and speed, so what was judged is only whether this machine can part the sheet at all. The recipe is the one with the fewest passes, and of those the fastest, within the machine’s recommended maximum and the material’s clean speed.',
  remedy:
    'Write the recipe into the tasks of a sidecar (`power`, `speed`, `passes`, `focus`, `focus-step`), or check the toolpath that will run. Cut one coupon of it before the sheet.',
  sources: ['The cut model and what it was held against: docs/model.md'],
  caution: FIRE,
  check(facts) {
    const found = proposals(facts);
    if ('notApplicable' in found) return found;
    return found.flatMap(({ proposed, cuts, limit }): ReportDescriptor[] => {
      if (proposed === null) return [];
      const { tasks, ...where } = ofCuts(cuts, 'alike');
      return [
        {
          messageId: 'proposed',
          args: {
            recipe: recipeText(proposed, facts.lens?.id ?? null),
            tasks,
            chance: formatChance(proposed.throughProbability),
            sheet: sheet(facts),
            machine: quoted(facts.machine?.id ?? ''),
            limit: formatPercent(limit),
          },
          ...where,
          data: { recipe: proposed },
        },
      ];
    });
  },
});
