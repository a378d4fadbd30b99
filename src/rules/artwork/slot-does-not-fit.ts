import type { JointSize } from '../../facts/artwork/geometry-fact.ts';
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
      '{slots} {are} drawn {width} mm wide, which comes out {gap} mm wider than the {thickness} mm sheet: the joint will wobble. Draw {them} {fit} mm wide. The kerf takes {kerf} mm; play of up to {limit} mm is let pass.',
    tight:
      '{slots} {are} drawn {width} mm wide, which comes out {gap} mm narrower than the {thickness} mm sheet: it will not go in. Draw {them} {fit} mm wide. The kerf takes {kerf} mm.',
    tabs: '{tabs} {stick} out {width} mm for a sheet of {thickness} mm, {gap} mm {direction}. Draw {them} {thickness} mm long, or leave it if that is meant. Up to {limit} mm is let pass.',
  },
  example:
    '4 slots are drawn 3.0 mm wide, which comes out 0.53 mm wider than the 2.7 mm sheet: the joint will wobble. Draw them 2.48 mm wide. The kerf takes 0.23 mm; play of up to 0.4 mm is let pass.',
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
    return geometry.joints.flatMap((joint): ReportDescriptor[] => {
      const difference = joint.sizeMm - thicknessMm;
      if (joint.count < options.fewest || Math.abs(difference) > thicknessMm * options.near) return [];
      const found = joint.kind === 'tab' ? misfitOfTabs : misfitOfSlots;
      const misfit = found(joint, thicknessMm, geometry.kerfMm ?? 0, options);
      return misfit === null
        ? []
        : [{ ...misfit, location: joint.location, subject: `${joint.kind} ${mm(joint.sizeMm)}` }];
    });
  },
});

/** What a message says of slots or tabs of one size, with what they fall short or are too wide by. */
type Misfit = Pick<ReportDescriptor, 'messageId' | 'args'> | null;
type Limits = { loose: number; tight: number; proud: number };

/** Words that both messages use. */
function argsOf({ sizeMm, count }: JointSize, thicknessMm: number, gap: number) {
  return {
    width: mm(sizeMm),
    thickness: mm(thicknessMm),
    gap: mm(Math.abs(gap)),
    them: count > 1 ? 'them' : 'it',
  };
}

function misfitOfTabs(joint: JointSize, thicknessMm: number, _kerfMm: number, { proud }: Limits): Misfit {
  const gap = roundTo(joint.sizeMm - thicknessMm, 3);
  if (Math.abs(gap) <= proud) return null;
  return {
    messageId: 'tabs',
    args: {
      ...argsOf(joint, thicknessMm, gap),
      tabs: formatCount(joint.count, 'tab'),
      stick: joint.count > 1 ? 'stick' : 'sticks',
      direction: gap > 0 ? 'less' : 'more',
      limit: proud,
    },
  };
}

function misfitOfSlots(joint: JointSize, thicknessMm: number, kerfMm: number, { loose, tight }: Limits): Misfit {
  const gap = roundTo(joint.sizeMm - thicknessMm + kerfMm, 3);
  if (gap <= loose && gap >= -tight) return null;
  const args = {
    ...argsOf(joint, thicknessMm, gap),
    slots: formatCount(joint.count, 'slot'),
    are: joint.count > 1 ? 'are' : 'is',
    kerf: mm(kerfMm),
    fit: mm(Math.max(0, thicknessMm - kerfMm)),
  };
  return gap > loose ? { messageId: 'loose', args: { ...args, limit: loose } } : { messageId: 'tight', args };
}
