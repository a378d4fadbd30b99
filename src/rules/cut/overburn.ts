import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { FIRE } from '../cautions.ts';
import { throughCuts } from '../predictions.ts';
import { defineRule } from '../rule.ts';
import { quoted, recipe, roundTo, sheet, significant } from '../wording.ts';

export default defineRule({
  id: 'cut/overburn',
  summary: 'A through cut gets several times the energy that it needs.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['prediction', 'toolpath', 'sidecar', 'machine', 'material'],
  searches: ['tasks', 'passes'],
  decides: 'hazard',
  messages: {
    surplus:
      'Task {task} gives {sheet} {ratio} times the energy it needs to part. Go faster, or lower the power. Above {limit} times the edge chars wide, melts or flares up; the recipe is {recipe}.',
    corners:
      'Task {task} slows to {slowest} mm/s at its corners, or where it starts and stops, and gives {ratio} times the energy that parts the sheet. Use power that follows the speed (M4 where the controller scales it), or lower power and speed together. At constant power such places burn above {limit} times.',
  },
  example:
    'Task "labels" gives 0.5 mm card 5.72 times the energy it needs to part. Go faster, or lower the power. Above 4 times the edge chars wide, melts or flares up; the recipe is 1 pass at 15 W, 20 mm/s.',
  options: {
    surplus: {
      type: 'number',
      default: 4,
      minimum: 1,
      description:
        'Energy delivered over energy needed, along straight stretches, from which a cut is said to over-burn.',
    },
    'corner-surplus': {
      type: 'number',
      default: 8,
      minimum: 1,
      description:
        'The same over the width of the spot where a cut with constant power is slowest: at a corner, or where it starts and stops.',
    },
  },
  why: 'Energy that the cut does not need goes into the edge: char in wood, a melted and rounded edge in acrylic, fire in card and foam. A good recipe has some surplus, which is why only multiples of it are reported.',
  remedy:
    'Raise the speed until the predicted depth is a little more than the sheet, or lower the power. For corners, let the power follow the speed, or lower power and speed of the whole cut together.',
  sources: [
    'Surplus: the cut model of docs/model.md; corners by the planner’s junction deviation, starts and stops by the machine’s acceleration',
    'The limits: common practice, no source',
  ],
  caution: FIRE,
  check(facts, options) {
    const through = throughCuts(facts);
    if ('notApplicable' in through) return through;
    const found = new Map<string, ReportDescriptor>();
    for (const { cut, prediction } of through) {
      const ratio = roundTo(prediction.energyRatio, 2);
      const corner = roundTo(prediction.energyRatio * cut.cornerOverburn, 2);
      const place = { location: cut.settingLocation, subject: cut.task };
      if (found.has(cut.task)) continue;
      if (ratio > options.surplus) {
        const args = {
          task: quoted(cut.task),
          sheet: sheet(facts),
          ratio: significant(ratio),
          recipe: recipe(cut),
          limit: options.surplus,
        };
        found.set(cut.task, { messageId: 'surplus', args, ...place });
      } else if (cut.cornerOverburn > 1 && corner > options['corner-surplus']) {
        const args = {
          task: quoted(cut.task),
          slowest: significant(cut.slowestMmPerS),
          ratio: significant(corner),
          limit: options['corner-surplus'],
        };
        found.set(cut.task, { messageId: 'corners', args, ...place });
      }
    }
    return found.values();
  },
});
