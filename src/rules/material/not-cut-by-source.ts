import { SOURCE_NAMES } from '../../facts/types.ts';
import { BEAM } from '../cautions.ts';
import { defineRule } from '../rule.ts';
import { tasksThatCut } from '../tasks.ts';
import { inSentence, listed } from '../wording.ts';

export default defineRule({
  id: 'material/not-cut-by-source',
  summary: 'This kind of source marks the material and does not cut it.',
  severity: 'error',
  since: '0.1.0',
  reads: ['material', 'machine', 'sidecar'],
  messages: {
    through:
      'A {kind} source marks {material} and does not cut it, but {tasks} must go through. Have it cut by a process that parts this sheet, or plan the task as `surface`. The reason: {reason}.',
    groove:
      'A {kind} source marks {material} and leaves no depth in it, but {tasks} must leave a groove. Plan the task as `surface`, or take another process. The reason: {reason}.',
  },
  forCustomers: { through: [], groove: [] },
  example:
    'A CO₂ source marks anodised aluminium and does not cut it, but "labels" must go through. Have it cut by a process that parts this sheet, or plan the task as `surface`. The reason: the dyed oxide layer is bleached; the metal below reflects 0.99 of 10.6 µm light.',
  options: {},
  why: 'Bare metal reflects most of a CO₂ or diode beam, glass cracks before it parts, glass fibre does not burn away: the beam heats and marks them at any speed, and what is reflected goes back into the machine. The verdict for each kind of source stands in the material’s entry. For a groove it is a warning: the line will be there, without depth.',
  remedy:
    'Check `source.kind` in the machine’s profile and `material` in the sidecar. If both are right, no setting helps: cut the sheet another way, or mark it only (`aim: surface`).',
  sources: [
    'Reflectance of bare metals at 10.6 µm (aluminium 0.99, copper 0.99, iron 0.97) and at 450 nm: computed from n and k of [REFRACTIVEINDEX]',
    'CO₂ and diode sources mark bare metal and do not cut it: common practice, no source',
  ],
  caution: BEAM,
  check(facts) {
    const { material, machine } = facts;
    if (material === null) return { notApplicable: 'the material is not known' };
    if (machine === null) return { notApplicable: 'the machine is not known' };
    const kind = machine.source.kind;
    if (material.sources[kind] !== 'marks-only') return [];
    const reason = material.sourceReasons[kind] ?? 'by the material’s entry';
    return tasksThatCut(facts).map(({ aim, tasks, location }) => ({
      messageId: aim,
      severity: aim === 'through' ? 'error' : 'warning',
      args: { kind: SOURCE_NAMES[kind], material: inSentence(material.name), reason, tasks: listed(tasks) },
      location,
      subject: aim,
    }));
  },
});
