import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { FIRE } from '../cautions.ts';
import { defineRule } from '../rule.ts';
import { formatFocus, mm, quoted, roundTo } from '../wording.ts';

export default defineRule({
  id: 'focus/outside-sheet',
  summary: 'The waist of a through cut lies outside the sheet.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['toolpath', 'sidecar', 'machine', 'prediction'],
  searches: ['tasks', 'passes'],
  messages: {
    above:
      'Task {task} runs with the waist {focus}, so that the whole sheet lies in the spreading beam. Put the focus on the face or into the sheet. Up to {allowed} mm above the face is let pass; the lens’s Rayleigh range is {rayleigh} mm.',
    below:
      'Pass {pass} of task {task} runs with the waist {focus}, below the {thickness} mm sheet. Raise the focus into the sheet. Up to {allowed} mm below its bottom is let pass; the lens’s Rayleigh range is {rayleigh} mm.',
  },
  example:
    'Task "outline" runs with the waist 3.0 mm above the face, so that the whole sheet lies in the spreading beam. Put the focus on the face or into the sheet. Up to 1.16 mm above the face is let pass; the lens’s Rayleigh range is 1.16 mm.',
  options: {
    'rayleigh-ranges': {
      type: 'number',
      default: 1,
      minimum: 0,
      description: 'How far outside the sheet the waist may lie, in Rayleigh ranges.',
    },
  },
  why: 'A cut is made where the beam is narrow. With the waist outside the sheet the spot on it is more than √2 times the smallest, the energy per area less than half, and most of the power goes into charring the edges. It is nearly always a sign turned round or a standoff measured for another lens.',
  remedy:
    'State the focus as the waist above (+) or below (−) the top face. Set the standoff for the lens that is fitted, or cut a focus ramp.',
  sources: [
    'At one Rayleigh range the spot has grown by √2: textbook, ISO 11146 notation',
    'The limit of one Rayleigh range: common practice, no source',
  ],
  caution: FIRE,
  check(facts, options) {
    const { beam, thicknessMm } = facts;
    if (beam === null) return { notApplicable: 'machine and lens are not both known' };
    if (thicknessMm === null) return { notApplicable: 'no thickness is given' };
    const allowed = options['rayleigh-ranges'] * beam.rayleighMm;
    const found: ReportDescriptor[] = [];
    const seen = new Set<string>();
    for (const cut of facts.cuts) {
      if (cut.aim !== 'through' || seen.has(cut.task)) continue;
      const at = cut.passes.findIndex(
        ({ focusMm }) => focusMm > roundTo(allowed, 3) || focusMm < -roundTo(thicknessMm + allowed, 3),
      );
      const pass = cut.passes[at];
      if (pass === undefined) continue;
      seen.add(cut.task);
      const args = {
        task: quoted(cut.task),
        focus: formatFocus(pass.focusMm),
        allowed: mm(allowed),
        rayleigh: mm(beam.rayleighMm),
      };
      found.push(
        pass.focusMm > 0
          ? { messageId: 'above', args, location: cut.settingLocation, subject: cut.task }
          : {
              messageId: 'below',
              args: { ...args, pass: at + 1, thickness: mm(thicknessMm) },
              location: cut.settingLocation,
              subject: cut.task,
            },
      );
    }
    return found;
  },
});
