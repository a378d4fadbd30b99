import { STROKE_STARTS_PATH, type Strokes } from '../../model/strokes.ts';
import { strokeLengthMm } from '../strokes/stroke-geometry.ts';

/** A run of strokes that no task claims and that is shorter than this leads into a line or out of it, mm. */
const LEAD_MM = 5;

/**
 * Gives short runs of strokes without a task to the task of the line that they lead into, or else come out of, without the beam going
 * off between: a lead-in belongs to its cut and must do what that does.
 */
export function settleLeads(strokes: Strokes, ofStroke: Int32Array): void {
  for (let from = 0; from < ofStroke.length; from++) {
    if (ofStroke[from] !== -1) continue;
    let to = from + 1;
    let lengthMm = strokeLengthMm(strokes, from);
    while (to < ofStroke.length && ofStroke[to] === -1 && !startsPath(strokes, to)) {
      lengthMm += strokeLengthMm(strokes, to++);
    }
    const into = to < ofStroke.length && !startsPath(strokes, to) ? ofStroke[to]! : -1;
    const outOf = from > 0 && !startsPath(strokes, from) ? ofStroke[from - 1]! : -1;
    const task = into >= 0 ? into : outOf;
    if (task >= 0 && lengthMm < LEAD_MM) ofStroke.fill(task, from, to);
    from = to - 1;
  }
}

function startsPath({ flags }: Strokes, stroke: number): boolean {
  return (flags[stroke]! & STROKE_STARTS_PATH) !== 0;
}
