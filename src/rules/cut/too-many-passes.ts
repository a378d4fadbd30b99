import { SOURCE_NAMES } from '../../facts/types.ts';
import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { FIRE } from '../cautions.ts';
import { defineRule } from '../rule.ts';
import { formatCount, quoted, sheet } from '../wording.ts';

export default defineRule({
  id: 'cut/too-many-passes',
  summary: 'So many passes say that the sheet is too thick for the source.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['toolpath', 'artwork', 'sidecar', 'machine'],
  searches: ['tasks', 'passes'],
  decides: 'hazard',
  messages: {
    many: 'Task {task} goes over the same line {passes}. Use a stronger source or thinner stock, stacked if need be. More than {limit} with a {kind} source say that the {sheet} is too thick for it.',
  },
  example:
    'Task "outline" goes over the same line 4 times. Use a stronger source or thinner stock, stacked if need be. More than 3 with a CO₂ source say that the 3.0 mm birch plywood is too thick for it.',
  options: {
    co2: { type: 'number', default: 3, minimum: 1, description: 'Most passes that are ordinary with a CO₂ source.' },
    diode: {
      type: 'number',
      default: 10,
      minimum: 1,
      description: 'Most passes that are ordinary with a diode source; more is a note.',
    },
  },
  why: 'Each pass works deeper in a wider beam and in what the last one charred: returns diminish, edges burn, and heat and fire risk add up. Diodes work in many thin passes, so for them it is only a note. Fibre sources mark and engrave in many passes and are not judged.',
  remedy:
    'Slow down to the material’s clean-speed floor before adding passes, lower the focus from pass to pass, or cut thinner layers and stack them.',
  sources: [
    'More than three passes on a CO₂ machine say that the sheet is too thick for it: common practice, no source',
    'The limit for diodes: common practice, no source',
  ],
  caution: FIRE,
  check(facts, options) {
    const machine = facts.machine;
    if (machine === null) return { notApplicable: 'the machine is not known' };
    const kind = machine.source.kind;
    if (kind === 'fibre') return { notApplicable: 'fibre sources work in many passes' };
    const found = new Map<string, ReportDescriptor>();
    for (const cut of facts.cuts) {
      const passes = cut.passCount;
      if (cut.aim !== 'through' || !(passes > options[kind]) || found.has(cut.task)) continue;
      found.set(cut.task, {
        messageId: 'many',
        severity: kind === 'diode' ? 'note' : 'warning',
        args: {
          task: quoted(cut.task),
          passes: formatCount(passes, 'time'),
          limit: options[kind],
          kind: SOURCE_NAMES[kind],
          sheet: sheet(facts),
        },
        location: cut.settingLocation,
        subject: cut.task,
      });
    }
    return found.values();
  },
});
