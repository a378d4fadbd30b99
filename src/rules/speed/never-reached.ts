import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { FIRE } from '../cautions.ts';
import { defineRule } from '../rule.ts';
import { formatPercent, quoted, roundTo, significant } from '../wording.ts';

export default defineRule({
  id: 'speed/never-reached',
  summary: 'The machine never gets up to the programmed speed on most of a cut.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['toolpath', 'machine', 'prediction'],
  searches: ['tasks', 'passes'],
  messages: {
    constant:
      'Task {task} is programmed at {programmed} mm/s and reaches {reached} mm/s on average. Program about {reached} mm/s and set the power for that. As set, it gets {surplus} times the energy per millimetre: on {share} of its length the stretches are too short for this machine’s acceleration.',
    scaled:
      'Task {task} is programmed at {programmed} mm/s and reaches {reached} mm/s on average. Program about that, or plan for the longer time; its power follows the speed down. On {share} of its length the stretches are too short for this machine’s acceleration.',
  },
  example:
    'Task "drain holes" is programmed at 200 mm/s and reaches 46.2 mm/s on average. Program about 46.2 mm/s and set the power for that. As set, it gets 4.33 times the energy per millimetre: on 100 % of its length the stretches are too short for this machine’s acceleration.',
  options: {
    share: {
      type: 'number',
      default: 0.5,
      minimum: 0,
      maximum: 1,
      description: 'Share of a cut’s length below the programmed speed from which it is reported.',
    },
    reached: {
      type: 'number',
      default: 0.7,
      minimum: 0,
      maximum: 1,
      description: 'Share of the programmed speed below which the mean speed must lie.',
    },
  },
  why: 'Between two corners the head has to speed up and slow down. On small shapes it turns round before it is up to speed; at constant power the line is then burnt deeper and wider than it was tested on a long line. With power that follows the speed this is a note.',
  remedy:
    'Program the speed that the shape allows, or have the power follow the speed. Test cuts should have the size of the real shape.',
  sources: [
    'Trapezoidal motion and junction deviation with the profile’s `motion`: textbook',
    'The limits: common practice, no source',
  ],
  caution: FIRE,
  check(facts, options) {
    if (facts.machine === null) return { notApplicable: 'the machine is not known' };
    if (!facts.machine.motion.stated) return { notApplicable: 'the machine’s profile states no `motion`' };
    const found = new Map<string, ReportDescriptor>();
    for (const [i, speed] of facts.speeds.entries()) {
      const cut = facts.cuts[i];
      if (cut === undefined || found.has(cut.task)) continue;
      const slow = roundTo(speed.reachedMmPerS, 2) < roundTo(speed.programmedMmPerS * options.reached, 2);
      if (!slow || !(roundTo(speed.belowShare, 3) > options.share) || speed.reachedMmPerS <= 0) continue;
      const args = {
        task: quoted(cut.task),
        programmed: significant(speed.programmedMmPerS),
        reached: significant(speed.reachedMmPerS),
        share: formatPercent(speed.belowShare),
      };
      const scaled = cut.passes.every((pass) => pass.scaled);
      const surplus = significant(speed.programmedMmPerS / speed.reachedMmPerS);
      found.set(cut.task, {
        ...(scaled
          ? { messageId: 'scaled', severity: 'note' as const, args }
          : { messageId: 'constant', args: { ...args, surplus } }),
        location: speed.location,
        subject: cut.task,
      });
    }
    return found.values();
  },
});
