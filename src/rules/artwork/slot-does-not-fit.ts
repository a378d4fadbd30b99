import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { defineRule } from '../rule.ts';
import { formatCount, mm, roundTo } from '../wording.ts';

export default defineRule({
  id: 'artwork/slot-does-not-fit',
  summary: 'Slots or tabs are drawn for another thickness than the sheet’s.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['artwork', 'sidecar', 'prediction'],
  searches: ['drawn-lines'],
  messages: {
    loose:
      '{slots} {are} drawn {width} mm wide; with the kerf of {kerf} mm that is {gap} mm wider than the {thickness} mm sheet, more than {limit} mm (rule option `loose`): the joint will wobble. Draw {them} {fit} mm wide.',
    tight:
      '{slots} {are} drawn {width} mm wide; with the kerf of {kerf} mm that is {gap} mm narrower than the {thickness} mm sheet: it will not go in. Draw {them} {fit} mm wide.',
    tabs: '{tabs} {stick} out {width} mm; the sheet they go through is {thickness} mm thick, {gap} mm {direction}, more than {limit} mm (rule option `proud`). Draw {them} {thickness} mm long, or leave it if that is meant.',
  },
  example:
    '4 slots are drawn 3.0 mm wide; with the kerf of 0.24 mm that is 0.54 mm wider than the 2.7 mm sheet, more than 0.4 mm (rule option `loose`): the joint will wobble. Draw them 2.46 mm wide.',
  options: {
    near: {
      type: 'number',
      default: 0.35,
      minimum: 0,
      maximum: 1,
      description: 'Only slots and tabs within this share of the thickness are taken for joints of this sheet.',
    },
    fewest: {
      type: 'number',
      default: 2,
      minimum: 1,
      description: 'Only sizes that occur so often are taken for joints.',
    },
    loose: { type: 'number', default: 0.4, unit: 'mm', minimum: 0, description: 'Most play of a slot after cutting.' },
    tight: {
      type: 'number',
      default: 0.1,
      unit: 'mm',
      minimum: 0,
      description: 'Most press fit of a slot after cutting.',
    },
    proud: {
      type: 'number',
      default: 0.4,
      unit: 'mm',
      minimum: 0,
      description: 'Most difference between a tab and the thickness.',
    },
  },
  why: 'Sheets sold as 3 mm measure 2.7, and designs are handed on from one shop to the next. The joint is the one dimension that depends on the very sheet.',
  remedy:
    'Measure the sheet, and draw slots as wide as it is thick, less the kerf for a press fit. Keep the thickness as a parameter of the drawing.',
  sources: ['The kerf: the cut model, docs/model.md', 'Fits of slots: common practice, no source'],
  check(facts, options) {
    const { geometry, thicknessMm } = facts;
    if (geometry === null) return { notApplicable: 'the job has no artwork' };
    if (thicknessMm === null) return { notApplicable: 'no thickness is given' };
    const kerf = geometry.kerfMm ?? 0;
    const found: ReportDescriptor[] = [];
    for (const joint of geometry.joints) {
      const difference = joint.sizeMm - thicknessMm;
      if (joint.count < options.fewest || Math.abs(difference) > thicknessMm * options.near) continue;
      const gap = roundTo(joint.kind === 'slot' ? difference + kerf : difference, 3);
      const many = joint.count > 1;
      const args = {
        width: mm(joint.sizeMm),
        thickness: mm(thicknessMm),
        gap: mm(Math.abs(gap)),
        them: many ? 'them' : 'it',
      };
      const place = { location: joint.location, subject: `${joint.kind} ${mm(joint.sizeMm)}` };
      if (joint.kind === 'tab') {
        if (Math.abs(gap) <= options.proud) continue;
        const tabs = formatCount(joint.count, 'tab');
        const direction = gap > 0 ? 'less' : 'more';
        found.push({
          messageId: 'tabs',
          args: { ...args, tabs, stick: many ? 'stick' : 'sticks', direction, limit: options.proud },
          ...place,
        });
        continue;
      }
      const slot = {
        ...args,
        slots: formatCount(joint.count, 'slot'),
        are: many ? 'are' : 'is',
        kerf: mm(kerf),
        fit: mm(Math.max(0, thicknessMm - kerf)),
      };
      if (gap > options.loose) found.push({ messageId: 'loose', args: { ...slot, limit: options.loose }, ...place });
      else if (gap < -options.tight) found.push({ messageId: 'tight', args: slot, ...place });
    }
    return found;
  },
});
