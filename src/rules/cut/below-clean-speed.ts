import { SOURCE_NAMES } from '../../facts/types.ts';
import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { FIRE } from '../cautions.ts';
import { defineRule } from '../rule.ts';
import { inSentence, quoted, roundTo, significant } from '../wording.ts';

export default defineRule({
  id: 'cut/below-clean-speed',
  summary: 'A cut runs so slowly that the material chars, melts or flares up.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['toolpath', 'sidecar', 'material', 'machine'],
  searches: ['tasks', 'passes'],
  decides: 'hazard',
  messages: {
    slow: 'Task {task} runs at {speed} mm/s, too slow for {material} under a {kind} source. Go at {floor} mm/s or faster: with more passes, more power, or thinner stock. Below that it chars, melts or flares up (the clean-speed floor in the material’s entry).',
  },
  example:
    'Task "outline" runs at 2.5 mm/s, too slow for birch plywood under a CO₂ source. Go at 4 mm/s or faster: with more passes, more power, or thinner stock. Below that it chars, melts or flares up (the clean-speed floor in the material’s entry).',
  options: {
    factor: {
      type: 'number',
      default: 1,
      minimum: 0,
      description: 'Multiplies the material’s floor; less than 1 lets slower cuts pass.',
    },
  },
  why: 'At low speed heat runs sideways into the sheet faster than the cut moves on. Wood chars wide, acrylic melts shut behind the beam, and a flame can stand in the kerf. When only a speed below the floor would get through, the sheet is too thick for the source.',
  remedy:
    'Raise the speed and make more passes with the focus following, or use a stronger source or thinner stock. If your material stays clean at lower speeds, set `clean-speed` in the shop’s `*.material.yaml`.',
  sources: [
    '4 mm/s for CO₂ on wood and acrylic: common practice, no source',
    'Each material’s entry states where its floor comes from',
  ],
  caution: FIRE,
  check(facts, options) {
    const { material, machine } = facts;
    if (material === null) return { notApplicable: 'the material is not known' };
    if (machine === null) return { notApplicable: 'the machine is not known' };
    const kind = machine.source.kind;
    const entry = material.cleanSpeedMmPerS[kind];
    if (entry === null)
      return { notApplicable: 'the material’s entry has no clean-speed floor for this kind of source' };
    const floor = entry * options.factor;
    const found = new Map<string, ReportDescriptor>();
    for (const cut of facts.cuts) {
      if (cut.aim === 'surface' || found.has(cut.task)) continue;
      const slowest = cut.passes.reduce(
        (least, pass) => Math.min(least, pass.programmedMmPerS),
        Number.POSITIVE_INFINITY,
      );
      if (!(roundTo(slowest, 3) < roundTo(floor, 3)) || slowest <= 0) continue;
      found.set(cut.task, {
        messageId: 'slow',
        args: {
          task: quoted(cut.task),
          speed: significant(slowest),
          floor: significant(floor),
          material: inSentence(material.name),
          kind: SOURCE_NAMES[kind],
        },
        location: cut.settingLocation,
        subject: cut.task,
      });
    }
    return found.values();
  },
});
