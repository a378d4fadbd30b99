import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { FIRE } from '../cautions.ts';
import { inToolpath } from '../places.ts';
import { defineRule } from '../rule.ts';
import { planPlace } from '../tasks.ts';
import { formatPercent, roundTo, significant } from '../wording.ts';

export default defineRule({
  id: 'power/above-source-limit',
  summary: 'More power is asked for than the source has.',
  severity: 'error',
  since: '0.1.0',
  reads: ['toolpath', 'sidecar', 'machine'],
  messages: {
    programmed:
      'The program sets {raw}, {share} of full power. Write a setting up to {full}, or correct the profile if the controller counts otherwise. Full is {full} by the machine’s profile.',
    planned:
      'The task plans {planned} W at the work, and the source gives {full} W at full setting. Plan up to {full} W and slow down instead. The source’s power is {basis} in the machine’s profile.',
  },
  example:
    'The program sets S1200, 120 % of full power. Write a setting up to 1000, or correct the profile if the controller counts otherwise. Full is 1000 by the machine’s profile.',
  options: {
    slack: {
      type: 'number',
      default: 0.005,
      minimum: 0,
      maximum: 0.5,
      description: 'Share above full that is taken for rounding.',
    },
  },
  why: 'A controller clips what is above full, or wraps it, or stops in the middle of the sheet. In each case the cut is not the one that was planned, and a prediction for more power than there is promises what will not come.',
  remedy:
    'Set the power within the scale of the controller. If every setting is too high by the same factor, the program was written for another scale: see power/scale-mismatch.',
  sources: [
    'The scale and the power come from the machine’s profile',
    'What controllers do above full: common practice, no source',
  ],
  caution: FIRE,
  check(facts, options) {
    const machine = facts.machine;
    if (machine === null) return { notApplicable: 'the machine is not known' };
    const found: ReportDescriptor[] = [];
    const highest = facts.toolpath?.highestSetting ?? null;
    const scale = machine.controller.power;
    // Where the program seems to count on another scale, that is said in its place.
    const isOnScale = scale !== null && facts.scaleDoubt === null;
    if (isOnScale && highest !== null && roundTo(highest.value, 4) > 1 + options.slack) {
      const { word, full } = scale;
      found.push({
        messageId: 'programmed',
        args: {
          raw: word === 'S' ? `S${significant(highest.raw)}` : `${significant(highest.raw)} by ${word}`,
          share: formatPercent(highest.value),
          full,
        },
        location: inToolpath(facts, highest.place),
      });
    }
    const fullW = facts.power?.fullW ?? machine.source.ratedW;
    for (const task of facts.tasks) {
      const planned = task.planned?.power ?? null;
      // A share of more than all is refused where the sidecar is read.
      if (planned === null || 'fraction' in planned) continue;
      if (!(roundTo(planned.watts, 3) > roundTo(fullW * (1 + options.slack), 3))) continue;
      const args = {
        planned: significant(planned.watts),
        full: significant(fullW),
        basis: facts.power?.basis ?? 'rated',
      };
      found.push({ messageId: 'planned', args, location: planPlace(facts, task, 'power'), subject: task.name });
    }
    return found;
  },
});
