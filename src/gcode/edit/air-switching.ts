import type { LineSpan } from '../../model/editing.ts';
import type { Changes } from './changes.ts';
import { Refused } from './refusal.ts';
import type { Survey, SurveyedLine } from './survey.ts';

/**
 * Switches the air on where the beam is off last ahead of each stretch, and off ahead of the first move behind it: the air takes time to
 * come, and the beam must not stand meanwhile.
 */
export function switchAir(
  survey: Survey,
  changes: Changes,
  stretches: readonly LineSpan[],
  { on, off }: { on: string; off: string },
): void {
  for (const { first, last } of stretches) {
    for (let number = first; number <= last; number++) {
      const line = survey.at(number);
      if (line === null) throw new Refused('a line of it is out of sight', number);
      if (line.before.air || line.before.mist) throw new Refused('the air is switched amid it', number);
    }
    changes.ahead(lastWithoutBeam(survey, first), [on]);
    let behind = last + 1;
    while (isQuiet(survey.at(behind))) behind++;
    const next = survey.at(behind);
    // Nothing is put at the end of a file, which may have been cut off there.
    if (next === null) continue;
    if (next.before.air || next.before.mist) throw new Refused('the air is switched right behind it', behind);
    changes.ahead(behind, [off]);
  }
}

/** The line ahead of which the beam is off and nothing fires before the stretch. */
function lastWithoutBeam(survey: Survey, first: number): number {
  for (let number = first; ; number--) {
    const line = survey.at(number);
    if (line === null) throw new Refused('the beam is on as far as one sees ahead of it', first);
    if (!line.before.fires && line.kind !== 'odd') return number;
    if (
      number < first &&
      (line.kind === 'move' || line.kind === 'dwell') &&
      line.after.fires &&
      line.after.motion !== 0
    )
      throw new Refused('the beam is on between it and the cut before', first);
  }
}

function isQuiet(line: SurveyedLine | null): boolean {
  return line !== null && (line.kind === 'blank' || line.kind === 'modal');
}
