import type { JobFacts } from '../../facts/facts.ts';
import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { FIRE } from '../cautions.ts';
import { inToolpath, toolpathProblems } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatPercent, quoted, roundTo, significant } from '../wording.ts';

/** Numbers that controllers take for full power. */
const FULL_SCALES = [1, 100, 255, 256, 1000, 1023, 1024, 4095, 4096, 10_000, 12_000, 32_767, 65_535];

export default defineRule({
  id: 'power/scale-mismatch',
  summary: 'The program seems to count power on another scale than the controller.',
  severity: 'warning',
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
      default: 0.02,
      minimum: 0,
      maximum: 0.5,
      description: 'How far the setting on the other scale may be from the planned one.',
    },
  },
  why: 'A program written for full power at 255 on a controller that takes 1000 runs at a quarter of the power and cuts nothing; the other way round it runs at full power throughout.',
  remedy: 'Set the same full-power number in the program that exports, in the controller and in the machine’s profile.',
  sources: ['The scale comes from the machine’s profile; the usual other scales: common practice, no source'],
  caution: FIRE,
  check(facts, options) {
    const { toolpath, machine } = facts;
    if (toolpath === null) return { notApplicable: 'the job has no toolpath' };
    if (machine === null) return { notApplicable: 'the machine is not known' };
    const own = ownScale(facts);
    if (own.length > 0) return own;
    const highest = toolpath.highestSetting;
    if (highest === null) return { notApplicable: 'the program sets no power' };
    const full = machine.controller.power.full;
    const others = FULL_SCALES.filter((scale) => Math.abs(scale / full - 1) > 0.01);
    const said = { raw: significant(highest.raw), share: formatPercent(highest.value), full };
    const place = { location: inToolpath(facts, highest.place) };
    const planned = highestPlanned(facts);
    if (planned !== null) {
      if (Math.abs(highest.value / planned - 1) <= 0.1) return [];
      const scale = others.find(
        (one) => roundTo(Math.abs(highest.raw / one - planned), 4) <= options.slack && highest.raw <= one,
      );
      if (scale === undefined) return [];
      const args = { ...said, planned: formatPercent(planned), scale, fits: formatPercent(highest.raw / scale) };
      return [{ messageId: 'planned', args, ...place }];
    }
    const topped = others.find((scale) => scale > 1 && highest.raw === scale && scale < full);
    // A round share of the profile's own scale is a setting like any other: S100 of 1000 is 10 %.
    if (topped === undefined || roundTo(highest.value * 100, 6) % 1 === 0) return [];
    return [{ messageId: 'topped', args: { ...said, scale: topped }, ...place }];
  },
});

/** Where the program itself sets another scale, or another meaning of M4, than the profile states. */
function ownScale(facts: JobFacts): ReportDescriptor[] {
  const controller = facts.machine?.controller;
  const found = new Map<string, ReportDescriptor>();
  for (const { code, args, place } of toolpathProblems(facts)) {
    const what = String(args['what'] ?? '');
    if (code !== 'other-scale' || controller === undefined || found.has(what)) continue;
    const said = { text: quoted(String(args['text'] ?? '')) };
    const rest = { location: inToolpath(facts, place), subject: what };
    if (what === 'full') {
      const numbers = { set: significant(Number(args['set'])), full: controller.power.full };
      found.set(what, { messageId: 'set', args: { ...said, ...numbers }, ...rest });
    } else {
      const does = args['set'] === 'constant' ? 'holds the power constant' : 'scales the power with the speed';
      found.set(what, { messageId: 'scaling', args: { ...said, does, m4: controller.m4 }, ...rest });
    }
  }
  return [...found.values()];
}

/** Highest planned share of full power; null when nothing is planned, or in watts. */
function highestPlanned(facts: JobFacts): number | null {
  let highest: number | null = null;
  for (const { planned } of facts.tasks) {
    const power = planned?.power ?? null;
    if (power === null || !('fraction' in power)) return null;
    highest = Math.max(highest ?? 0, power.fraction);
  }
  return highest;
}
