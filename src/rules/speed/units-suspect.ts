import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { FIRE } from '../cautions.ts';
import { defineRule } from '../rule.ts';
import { quoted, roundTo, significant } from '../wording.ts';

const SECONDS_PER_MINUTE = 60;

export default defineRule({
  id: 'speed/units-suspect',
  summary: 'A speed seems to have been written in mm/s where mm/min is read, or the other way round.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['toolpath', 'sidecar'],
  searches: ['tasks', 'passes'],
  messages: {
    planned:
      'Task {task} runs at {found} mm/s and {planned} mm/s is planned, {times} times {direction}. Write F{feed} for {planned} mm/s (mm/min with G21). The feed was probably written in {written} where {read} is read.',
    crawling:
      'Task {task} runs at {found} mm/s (F{feed} mm/min), below {limit} mm/s. Write F{meant} if F{feed} was meant in mm/s. Hardly any cut is meant to go so slowly.',
  },
  example:
    'Task "outline" runs at 0.15 mm/s and 9 mm/s is planned, 60 times slower. Write F540 for 9 mm/s (mm/min with G21). The feed was probably written in mm/s where mm/min is read.',
  options: {
    slowest: {
      type: 'number',
      default: 0.6,
      unit: 'mm/s',
      minimum: 0,
      description: 'Slower cuts are taken for a slip of units when nothing is planned.',
    },
    slack: {
      type: 'number',
      default: 0.05,
      minimum: 0,
      maximum: 0.5,
      description: 'How far from a ratio of 60 a speed may be and still count as a slip of units.',
    },
  },
  why: 'F is in units per minute, and people speak of mm/s. A cut 60 times too slow burns through sheet and bed; one 60 times too fast leaves no trace. A slip against the plan is an error, a suspicion without one a warning.',
  remedy: 'Multiply mm/s by 60 for the F word. Check the export’s unit for speeds.',
  sources: [
    'F in units per minute under G94: RS274/NGC [NISTIR-6556]',
    'The slowest sensible cut: common practice, no source',
  ],
  caution: FIRE,
  check(facts, options) {
    if (facts.toolpath === null) return { notApplicable: 'the job has no toolpath' };
    const found = new Map<string, ReportDescriptor>();
    for (const cut of facts.cuts) {
      const programmed = cut.passes[0]?.programmedMmPerS ?? Number.NaN;
      if (!(programmed > 0) || found.has(cut.task)) continue;
      const planned = facts.tasks[cut.taskIndex]?.planned?.speedMmPerS ?? null;
      const slip =
        planned !== null && planned > 0
          ? againstThePlan(programmed, planned, options.slack)
          : crawling(programmed, options.slowest);
      if (slip === null) continue;
      const args = { ...slip.args, task: quoted(cut.task) };
      found.set(cut.task, { ...slip, args, location: cut.settingLocation, subject: cut.task });
    }
    return found.values();
  },
});

type Slip = Pick<ReportDescriptor, 'messageId' | 'severity' | 'args'>;

/** A speed that is off the planned one by the seconds of a minute, mm/s. */
function againstThePlan(programmed: number, planned: number, slack: number): Slip | null {
  const ratio = Math.max(programmed / planned, planned / programmed);
  if (roundTo(Math.abs(ratio / SECONDS_PER_MINUTE - 1), 4) > slack) return null;
  const slow = programmed < planned;
  const args = {
    found: significant(programmed),
    planned: significant(planned),
    times: roundTo(ratio, 0),
    direction: slow ? 'slower' : 'faster',
    written: slow ? 'mm/s' : 'mm/min',
    read: slow ? 'mm/min' : 'mm/s',
    feed: significant(planned * SECONDS_PER_MINUTE),
  };
  return { messageId: 'planned', severity: 'error', args };
}

/** A speed below the slowest sensible one, mm/s, where none is planned. */
function crawling(programmed: number, slowest: number): Slip | null {
  if (roundTo(programmed, 4) >= slowest) return null;
  const feed = roundTo(programmed * SECONDS_PER_MINUTE, 1);
  const args = {
    found: significant(programmed),
    feed: significant(feed),
    limit: slowest,
    meant: significant(feed * SECONDS_PER_MINUTE),
  };
  return { messageId: 'crawling', args };
}
