import { BEAM } from '../cautions.ts';
import { lineOfToolpath } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, mm, roundTo } from '../wording.ts';

export default defineRule({
  id: 'toolpath/off-sheet',
  summary: 'The beam fires beyond the edge of the sheet.',
  severity: 'error',
  since: '0.1.0',
  reads: ['toolpath', 'sidecar'],
  messages: {
    off: '{strokes} of the toolpath {reach} up to {by} mm beyond the sheet of {width} × {height} mm in {axis}. Move the job, lay a larger sheet, or correct `sheet` and `zero` in the sidecar.',
    tooLarge:
      'The powered part of the toolpath is {size} mm long in {axis}, {by} mm more than the sheet of {width} × {height} mm. Lay a larger sheet, turn or split the job, or correct `sheet` in the sidecar.',
  },
  forCustomers: { off: ['by', 'width', 'height'], tooLarge: ['size', 'width', 'height'] },
  example:
    '3 strokes of the toolpath reach up to 30.0 mm beyond the sheet of 60.0 × 60.0 mm in X. Move the job, lay a larger sheet, or correct `sheet` and `zero` in the sidecar.',
  options: {
    slack: {
      type: 'number',
      default: 0.1,
      unit: 'mm',
      minimum: 0,
      description: 'Overreach that is taken for rounding.',
    },
  },
  why: 'Off the sheet the beam cuts nothing but the bed: the part is incomplete, and the light comes back from whatever lies there.',
  remedy:
    'Correct the place of the job or the size of the sheet. With `zero: machine` or `sheet-corner` the place on the sheet is checked, offsets of the program included (G10, G92, G55 and on); with `set-by-hand`, or where `zero` is not stated, the size only. An offset that the program does not tell leaves the job incomplete.',
  sources: ['The sheet’s size and place come from the sidecar', 'Offsets: RS274/NGC [NISTIR-6556], 3.2.2 and 3.5'],
  caution: BEAM,
  check(facts, options) {
    if (facts.toolpath === null) return { notApplicable: 'the job has no toolpath' };
    const sheet = facts.input.sidecar?.sheet ?? null;
    if (sheet === null) return { notApplicable: 'the sidecar states no sheet' };
    if (facts.toolpath.poweredBoundsMm === null) return { notApplicable: 'the beam does not fire anywhere' };
    const fit = facts.onSheet;
    if (fit === null) return { notApplicable: facts.onBedUnknown ?? 'where the job lies is not known' };
    if (roundTo(fit.byMm, 3) <= options.slack) return [];
    const said = { by: mm(fit.byMm), axis: fit.axis, width: mm(sheet.widthMm), height: mm(sheet.heightMm) };
    if (fit.sizeOnly) {
      return [{ messageId: 'tooLarge', args: { ...said, size: mm(fit.sizeMm) }, location: facts.input.home }];
    }
    const args = { ...said, strokes: formatCount(fit.beyond, 'stroke'), reach: fit.beyond === 1 ? 'reaches' : 'reach' };
    const location = fit.line === null ? facts.input.home : lineOfToolpath(facts, fit.line);
    return [{ messageId: 'off', args, location }];
  },
});
