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
  forCustomers: {
    loose: ['width', 'fit', 'thickness'],
    tight: ['width', 'fit', 'thickness'],
    tabs: ['width', 'thickness'],
  },
  example:
    '4 slots are drawn 3.0 mm wide, which comes out 0.54 mm wider than the 2.7 mm sheet: the joint will wobble. Draw them 2.46 mm wide. The kerf takes 0.24 mm; play of up to 0.4 mm is let pass.',
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
    const kerfMm = geometry.kerfMm ?? 0;
    return geometry.joints.flatMap((joint): ReportDescriptor[] => {
      const differenceMm = joint.sizeMm - thicknessMm;
      if (joint.count < options.fewest || Math.abs(differenceMm) > thicknessMm * options.near) return [];
      const misfit =
        joint.kind === 'tab'
          ? tabs(joint, thicknessMm, options.proud)
          : slots(joint, thicknessMm, { ...options, kerfMm });
      if (misfit === null) return [];
      return [{ ...misfit, location: joint.location, subject: `${joint.kind} ${mm(joint.sizeMm)}` }];
    });
  },
});

type Misfit = Pick<ReportDescriptor, 'messageId' | 'args'>;

/** Tabs that stand proud of the sheet or stay below its face by more than is let pass. */
function tabs(joint: JointSize, thicknessMm: number, proudMm: number): Misfit | null {
  const gapMm = roundTo(joint.sizeMm - thicknessMm, 3);
  if (Math.abs(gapMm) <= proudMm) return null;
  const args = {
    ...sizes(joint, thicknessMm, gapMm),
    tabs: formatCount(joint.count, 'tab'),
    stick: joint.count > 1 ? 'stick' : 'sticks',
    direction: gapMm > 0 ? 'too long' : 'too short',
    limit: proudMm,
  };
  return { messageId: 'tabs', args };
}

/** Slots that come out wider or narrower than the sheet by more than is let pass; the kerf widens them. */
function slots(
  joint: JointSize,
  thicknessMm: number,
  { kerfMm, loose, tight }: { kerfMm: number; loose: number; tight: number },
): Misfit | null {
  const gapMm = roundTo(joint.sizeMm - thicknessMm + kerfMm, 3);
  const args = {
    ...sizes(joint, thicknessMm, gapMm),
    slots: formatCount(joint.count, 'slot'),
    are: joint.count > 1 ? 'are' : 'is',
    kerf: mm(kerfMm),
    fit: mm(Math.max(0, thicknessMm - kerfMm)),
  };
  if (gapMm > loose) return { messageId: 'loose', args: { ...args, limit: loose } };
  return gapMm < -tight ? { messageId: 'tight', args } : null;
}

function sizes(joint: JointSize, thicknessMm: number, gapMm: number): Record<string, string> {
  return {
    width: mm(joint.sizeMm),
    thickness: mm(thicknessMm),
    gap: mm(Math.abs(gapMm)),
    them: joint.count > 1 ? 'them' : 'it',
  };
}
