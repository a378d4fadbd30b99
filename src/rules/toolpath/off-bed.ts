import type { JobFacts } from '../../facts/facts.ts';
import type { Location } from '../../facts/types.ts';
import { CRASH, FIRE } from '../cautions.ts';
import { inSidecar, lineOfToolpath } from '../places.ts';
import { defineRule } from '../rule.ts';
import { mm, roundTo } from '../wording.ts';

export default defineRule({
  id: 'toolpath/off-bed',
  summary: 'The job reaches beyond the machine’s travel.',
  severity: 'error',
  since: '0.1.0',
  reads: ['toolpath', 'artwork', 'sidecar', 'machine'],
  searches: ['drawn-lines'],
  messages: {
    outside:
      'The job reaches {axis} {value} mm on the bed, beyond the travel of 0 to {limit} mm. Move the job by {by} mm, or correct in the sidecar what X0 Y0 means and where the sheet lies. The travel is that of the machine’s profile.',
    tooLarge:
      'The job is {size} mm long in {axis}, and the travel is {limit} mm by the machine’s profile. Turn it, split it or cut it on a larger machine.',
  },
  forCustomers: { tooLarge: ['size'] },
  example:
    'The job reaches X 640.0 mm on the bed, beyond the travel of 0 to 600.0 mm. Move the job by 40.0 mm, or correct in the sidecar what X0 Y0 means and where the sheet lies. The travel is that of the machine’s profile.',
  options: {
    slack: {
      type: 'number',
      default: 0.1,
      unit: 'mm',
      minimum: 0,
      description: 'Overreach that is taken for rounding.',
    },
  },
  why: 'At the end of the travel the head stops or loses steps while the beam is on: everything after it is cut in the wrong place, and where it stands the sheet burns.',
  remedy:
    'Move or turn the job. What X0 Y0 means is stated by `zero`: with `machine` or `sheet-corner` the place on the bed is checked, with `set-by-hand` the extent only.',
  sources: ['The travel comes from the machine’s profile', 'What an overrun does: common practice, no source'],
  caution: `${CRASH} ${FIRE}`,
  check(facts, options) {
    const machine = facts.machine;
    if (machine === null) return { notApplicable: 'the machine is not known' };
    const travel = { X: machine.travel.xMm, Y: machine.travel.yMm };
    const bounds = facts.onBed ?? facts.toolpath?.boundsMm ?? facts.artwork?.boundsMm ?? null;
    if (bounds === null) return { notApplicable: 'nothing in this job moves' };
    for (const [axis, size] of [
      ['X', bounds.maxX - bounds.minX],
      ['Y', bounds.maxY - bounds.minY],
    ] as const) {
      if (roundTo(size, 3) <= travel[axis] + options.slack) continue;
      const args = { size: mm(size), axis, limit: mm(travel[axis]) };
      return [{ messageId: 'tooLarge', args, location: facts.input.home, subject: axis }];
    }
    const onBed = facts.onBed;
    if (onBed === null) {
      if (facts.input.sidecar?.zero === 'set-by-hand') return [];
      return {
        notApplicable: `the extent fits, the place on the bed is not known: ${facts.onBedUnknown ?? '`zero` is not stated'}`,
      };
    }
    const over = [
      { axis: 'X', value: onBed.minX, by: -onBed.minX },
      { axis: 'Y', value: onBed.minY, by: -onBed.minY },
      { axis: 'X', value: onBed.maxX, by: onBed.maxX - travel.X },
      { axis: 'Y', value: onBed.maxY, by: onBed.maxY - travel.Y },
    ] as const;
    const worst = over.reduce((most, one) => (one.by > most.by ? one : most));
    if (roundTo(worst.by, 3) <= options.slack) return [];
    const args = { axis: worst.axis, value: mm(worst.value), limit: mm(travel[worst.axis]), by: mm(worst.by) };
    return [{ messageId: 'outside', args, location: firstOutside(facts, travel, options.slack), subject: worst.axis }];
  },
});

/** The first powered stroke that ends off the bed; the sidecar's `zero` when only travel or the artwork reaches out. */
function firstOutside(facts: JobFacts, travel: { X: number; Y: number }, slack: number): Location {
  const { toolpath, onBed } = facts;
  const bounds = toolpath?.boundsMm ?? null;
  if (toolpath !== null && bounds !== null && onBed !== null) {
    const dx = onBed.minX - bounds.minX;
    const dy = onBed.minY - bounds.minY;
    const { count, endX, endY, line } = toolpath.strokes;
    for (let i = 0; i < count; i++) {
      const x = endX[i]! + dx;
      const y = endY[i]! + dy;
      if (x < -slack || y < -slack || x > travel.X + slack || y > travel.Y + slack)
        return lineOfToolpath(facts, line[i]!);
    }
  }
  return inSidecar(facts, ['zero']);
}
