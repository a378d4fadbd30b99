import type { JobFacts } from '../../facts/facts.ts';
import { SCALE_SLACK, scaleDoubtOf } from '../../facts/power-scale/power-scale.ts';
import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { FIRE } from '../cautions.ts';
import { isAssumed } from '../machine.ts';
import { inToolpath, toolpathProblems } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatPercent, quoted, significant } from '../wording.ts';

export default defineRule({
  id: 'power/scale-mismatch',
  summary: 'The program seems to count power on another scale than the controller.',
  severity: 'error',
  since: '0.1.0',
  reads: ['toolpath', 'machine', 'sidecar'],
  messages: {
    set: 'The program sets the number for full power to {set} ({text}), and the machine’s profile says {full}. Take the line out, or correct the profile. It was followed from there; other programs then run at another power than they were checked for.',
    scaling:
      'The program sets that M4 {does} ({text}), and the machine’s profile says `m4: {m4}`. Take the line out, or correct the profile. It was followed from there.',
    planned:
      'The highest setting is {raw}, {share} of the full {full} in the machine’s profile, where {planned} is planned. Export with full power at {full}, or correct the profile. On a scale of {scale} it would be {fits}.',
    topped:
      'The highest setting is {raw}, {share} of the full {full} in the machine’s profile. Export with full power at {full}, or correct the profile. {raw} is exactly full on a scale of {scale}.',
  },
  example:
    'The highest setting is 204, 20.4 % of the full 1000 in the machine’s profile, where 80 % is planned. Export with full power at 1000, or correct the profile. On a scale of 255 it would be 80 %.',
  options: {
    slack: {
      type: 'number',
      default: SCALE_SLACK,
      minimum: 0,
      maximum: 0.5,
      description: 'How far the setting on the other scale may be from the planned one.',
    },
  },
  why: 'A program written for full power at 255 on a controller that takes 1000 runs at a quarter of the power and cuts nothing; the other way round it runs at full power throughout. Where the highest setting fits the plan on another scale alone, it is an error; where it is exactly full on another scale and nothing is planned, a warning. In both cases what rests on the watts is held back and the job is not judged until the scale is settled.',
  remedy: 'Set the same full-power number in the program that exports, in the controller and in the machine’s profile.',
  sources: ['The scale comes from the machine’s profile; the usual other scales: common practice, no source'],
  caution: FIRE,
  check(facts, options) {
    const { toolpath, machine } = facts;
    if (toolpath === null) return { notApplicable: 'the job has no toolpath' };
    if (machine === null) return { notApplicable: 'the machine is not known' };
    const own = ownScale(facts);
    if (own.length === 0 && toolpath.highestSetting === null) return { notApplicable: 'the program sets no power' };
    const doubt = scaleDoubtOf(facts, options.slack);
    if (doubt === null) return own;
    const { kind, raw, share, full, scale, planned } = doubt;
    const said = { raw: significant(raw), share: formatPercent(share), full, scale };
    const location = inToolpath(facts, doubt.place);
    if (kind === 'topped' || planned === null) {
      return [{ messageId: 'topped', severity: 'warning', args: said, location }, ...own];
    }
    const args = { ...said, planned: formatPercent(planned), fits: formatPercent(raw / scale) };
    return [{ messageId: 'planned', args, location }, ...own];
  },
});

/** Where the program itself sets another scale, or another meaning of M4, than the profile states. */
function ownScale(facts: JobFacts): ReportDescriptor[] {
  const { machine } = facts;
  if (machine === null) return [];
  const { controller } = machine;
  const found = new Map<string, ReportDescriptor>();
  for (const { code, args, place } of toolpathProblems(facts)) {
    const what = String(args['what'] ?? '');
    if (code !== 'other-scale' || found.has(what)) continue;
    const said = { text: quoted(String(args['text'] ?? '')) };
    const rest = { location: inToolpath(facts, place), subject: what };
    if (what === 'full') {
      if (controller.power === null) continue;
      const numbers = { set: significant(Number(args['set'])), full: controller.power.full };
      found.set(what, { messageId: 'set', severity: 'warning', args: { ...said, ...numbers }, ...rest });
    } else if (!isAssumed(machine, 'controller.m4')) {
      const does = args['set'] === 'constant' ? 'holds the power constant' : 'scales the power with the speed';
      found.set(what, {
        messageId: 'scaling',
        severity: 'warning',
        args: { ...said, does, m4: controller.m4 },
        ...rest,
      });
    }
  }
  return [...found.values()];
}
