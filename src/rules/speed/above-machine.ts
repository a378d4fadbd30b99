import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { FIRE } from '../cautions.ts';
import { inToolpath } from '../places.ts';
import { defineRule } from '../rule.ts';
import { planPlace } from '../tasks.ts';
import { quoted, roundTo, significant } from '../wording.ts';

export default defineRule({
  id: 'speed/above-machine',
  summary: 'A speed is asked for that the machine does not have.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['toolpath', 'sidecar', 'machine'],
  messages: {
    programmed:
      'The program asks for {speed} mm/s (F{feed} mm/min), and the machine goes up to {limit} mm/s by its profile. Write {limit} mm/s or less and set the power for that. It will run slower than asked and put more energy into the sheet.',
    planned:
      'Task {task} plans {speed} mm/s, and the machine goes up to {limit} mm/s by its profile. Plan {limit} mm/s or less and set the power for that.',
  },
  example:
    'The program asks for 550 mm/s (F33000 mm/min), and the machine goes up to 500 mm/s by its profile. Write 500 mm/s or less and set the power for that. It will run slower than asked and put more energy into the sheet.',
  options: {
    slack: {
      type: 'number',
      default: 0.005,
      minimum: 0,
      maximum: 0.5,
      description: 'Share above the limit that is taken for rounding.',
    },
  },
  why: 'A controller clips the speed in silence. At half the speed the line gets twice the energy: marks become grooves, and edges char.',
  remedy:
    'Lower speed and power together. A speed that is 60 times too high was written in mm/s where mm/min were meant.',
  sources: ['The limit comes from the machine’s profile', 'That controllers clip: common practice, no source'],
  caution: FIRE,
  check(facts, options) {
    const machine = facts.machine;
    if (machine === null) return { notApplicable: 'the machine is not known' };
    if (!machine.motion.stated) return { notApplicable: 'the machine’s profile states no `motion`' };
    const limit = machine.motion.speedMmPerS;
    const tooFast = (speed: number) => roundTo(speed, 3) > roundTo(limit * (1 + options.slack), 3);
    const found: ReportDescriptor[] = [];
    const highest = facts.toolpath?.highestSpeed ?? null;
    if (highest !== null && tooFast(highest.mmPerS)) {
      const args = {
        speed: significant(highest.mmPerS),
        feed: significant(highest.mmPerS * 60),
        limit: significant(limit),
      };
      found.push({ messageId: 'programmed', args, location: inToolpath(facts, highest.place) });
    }
    for (const task of facts.tasks) {
      const speed = task.planned?.speedMmPerS ?? null;
      if (speed === null || !tooFast(speed)) continue;
      const args = { task: quoted(task.name), speed: significant(speed), limit: significant(limit) };
      found.push({ messageId: 'planned', args, location: planPlace(facts, task, 'speed'), subject: task.name });
    }
    return found;
  },
});
