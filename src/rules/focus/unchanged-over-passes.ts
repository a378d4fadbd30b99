import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { throughCuts } from '../predictions.ts';
import { defineRule } from '../rule.ts';
import {
  formatChance,
  formatChanceShortOf,
  formatCount,
  formatFocus,
  formatPercent,
  quoted,
  roundTo,
} from '../wording.ts';

export default defineRule({
  id: 'focus/unchanged-over-passes',
  summary: 'The focus stays where it is from pass to pass, and that costs the cut.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['prediction', 'toolpath', 'sidecar', 'machine'],
  searches: ['tasks', 'passes'],
  messages: {
    unchanged:
      'Task {task} makes {passes} with the waist {focus} each time and is {chance} likely to part the sheet. Lower the focus from pass to pass (`focus-step` in the task, or Z in the program): then it is {better}. {limit} is asked of it.',
  },
  example:
    'Task "outline" makes 2 passes with the waist 1.0 mm above the face each time and is 79 % likely to part the sheet. Lower the focus from pass to pass (`focus-step` in the task, or Z in the program): then it is 93 %. 90 % is asked of it.',
  options: {
    gain: {
      type: 'number',
      default: 0.1,
      minimum: 0,
      maximum: 1,
      description: 'Least gain in probability for which it is worth a word.',
    },
  },
  why: 'Every pass starts deeper, in a wider and weaker beam, so returns diminish. Following the cut with the focus keeps the narrow part of the beam where the work is. Where the passes suffice as they are, nothing is reported.',
  remedy:
    'Lower the focus by about the depth of a pass after each, where the machine has a controlled Z. Otherwise lower it once, into the sheet, for all passes.',
  sources: [
    'The cut model and its closed form for several passes: docs/model.md',
    'Lowering the focus from pass to pass: common practice, no source',
  ],
  check(facts, options) {
    const through = throughCuts(facts);
    if ('notApplicable' in through) return through;
    const found = new Map<string, ReportDescriptor>();
    for (const { cut, prediction } of through) {
      const stays = new Set(cut.passes.map((pass) => roundTo(pass.focusMm, 3))).size === 1;
      const first = cut.passes[0];
      const better = cut.throughWithFocusStep;
      if (found.has(cut.task) || cut.passes.length < 2 || !stays || first === undefined || better === null) continue;
      const now = roundTo(prediction.throughProbability, 3);
      if (now >= prediction.limit || roundTo(better, 3) < roundTo(now + options.gain, 3)) continue;
      found.set(cut.task, {
        messageId: 'unchanged',
        args: {
          task: quoted(cut.task),
          passes: formatCount(cut.passes.length, 'pass', 'passes'),
          focus: formatFocus(first.focusMm),
          chance: formatChanceShortOf(now, prediction.limit),
          better: formatChance(better),
          limit: formatPercent(prediction.limit),
        },
        location: cut.settingLocation,
        subject: cut.task,
      });
    }
    return found.values();
  },
});
