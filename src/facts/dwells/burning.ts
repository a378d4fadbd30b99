import type { Dwell, Toolpath } from '../../model/toolpath.ts';
import { type Found, where } from '../../units/found.ts';

/**
 * Dwells and pauses during which the beam may burn: it is commanded on, and they last longer than a pierce.
 * @param gated whether the controller switches the beam off under M4 while the head stands; null where that is not known
 */
export function burningDwells(toolpath: Toolpath, gated: boolean | null, pierceS: number): Found<Dwell> {
  return where(
    toolpath.dwells,
    (dwell) =>
      dwell.beam.mode !== 'off' &&
      dwell.setting > 0 &&
      (dwell.pause || dwell.seconds > pierceS) &&
      !(gated === true && dwell.beam.mode === 'on-in-motion'),
  );
}
