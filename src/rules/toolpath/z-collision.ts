import type { JobFacts } from '../../facts/facts.ts';
import type { Location } from '../../facts/types.ts';
import { CRASH } from '../cautions.ts';
import { lineOfToolpath } from '../places.ts';
import { defineRule } from '../rule.ts';
import { mm, roundTo } from '../wording.ts';

export default defineRule({
  id: 'toolpath/z-collision',
  summary: 'The head is lowered into the sheet, or lifted beyond its travel.',
  severity: 'error',
  since: '0.1.0',
  reads: ['toolpath', 'machine'],
  messages: {
    lowered:
      'The program goes down to Z{z} mm, where the nozzle comes within {left} mm of the sheet. Lower the focus less, or fit another lens. {clearance} mm are asked for; at Z0 the nozzle stands {standoff} mm above the sheet by the machine’s profile.',
    beyond:
      'The program asks for a Z range of {range} mm, and the travel is {limit} mm by the machine’s profile. Keep within it.',
  },
  example:
    'The program goes down to Z-5.8 mm, where the nozzle comes within 0.2 mm of the sheet. Lower the focus less, or fit another lens. 0.5 mm are asked for; at Z0 the nozzle stands 6.0 mm above the sheet by the machine’s profile.',
  options: {
    clearance: {
      type: 'number',
      default: 0.5,
      unit: 'mm',
      minimum: 0,
      description: 'Least distance between nozzle and sheet.',
    },
  },
  why: 'A nozzle that touches the sheet drags it out of place, tears off the lens tube or jams the machine with the beam on.',
  remedy:
    'Check the sign of Z and the standoff of the lens that is fitted. A bowed sheet stands higher than its face: hold it down.',
  sources: [
    'Standoff and travel come from the machine’s profile',
    'The clearance of half a millimetre: common practice, no source',
  ],
  caution: CRASH,
  check(facts, options) {
    const { toolpath, machine, lens } = facts;
    if (toolpath === null) return { notApplicable: 'the job has no toolpath' };
    if (machine === null) return { notApplicable: 'the machine is not known' };
    if (machine.controller.zZero === 'fixed') return { notApplicable: 'the machine has no controlled Z' };
    const bounds = toolpath.boundsMm;
    if (bounds === null) return { notApplicable: 'nothing moves' };
    const low = roundTo(bounds.minZ, 3);
    const range = roundTo(bounds.maxZ - bounds.minZ, 3);
    const limit = machine.travel.zMm;
    if (limit !== null && range > limit) {
      const args = { range: mm(range), limit: mm(limit) };
      return [{ messageId: 'beyond', args, location: lowestStroke(facts, bounds.minZ), subject: 'beyond' }];
    }
    const standoff = lens?.standoffMm ?? null;
    if (standoff === null) return { notApplicable: 'the lens’s standoff is not stated' };
    const left = roundTo(standoff + low, 3);
    if (low >= 0 || left >= options.clearance) return [];
    const args = { z: mm(low), standoff: mm(standoff), left: mm(Math.max(0, left)), clearance: options.clearance };
    return [{ messageId: 'lowered', args, location: lowestStroke(facts, bounds.minZ), subject: 'lowered' }];
  },
});

/** The first powered stroke at the lowest Z; the program's first line when the head is only lowered between strokes. */
function lowestStroke(facts: JobFacts, lowest: number): Location {
  const strokes = facts.toolpath?.strokes;
  for (let i = 0; strokes !== undefined && i < strokes.count; i++) {
    if (Math.min(strokes.startZ[i]!, strokes.endZ[i]!) <= lowest + 1e-6) return lineOfToolpath(facts, strokes.line[i]!);
  }
  return lineOfToolpath(facts, 1);
}
