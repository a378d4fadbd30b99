import type { JobFacts } from '../../facts/facts.ts';
import { inToolpath } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatPercent, roundTo, significant } from '../wording.ts';

/** Numbers that controllers take for full power. */
const FULL_SCALES = [1, 100, 255, 256, 1000, 1023, 1024, 4095, 4096, 10_000, 12_000, 32_767, 65_535];

export default defineRule({
  id: 'power/scale-mismatch',
  summary: 'The program seems to count power on another scale than the controller.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['toolpath', 'machine', 'sidecar'],
  messages: {
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
  check(facts, options) {
    const { toolpath, machine } = facts;
    if (toolpath === null) return { notApplicable: 'the job has no toolpath' };
    if (machine === null) return { notApplicable: 'the machine is not known' };
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
