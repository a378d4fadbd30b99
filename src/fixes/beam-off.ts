import { burningDwells } from '../facts/dwells/burning.ts';
import type { Dwell } from '../model/toolpath.ts';
import { formatTime } from '../units/format.ts';
import { isOpen, onLineOf } from './candidates.ts';
import { type Candidate, type FixContext, nothing, type Proposal, proposalOf } from './fix.ts';

const RULE = 'toolpath/dwell-burn';

interface DwellCandidate extends Candidate {
  line: number;
}

/** Switches the beam off while the head stands longer than a pierce. */
export function beamOff(context: FixContext): Proposal {
  const { toolpath, facts, pierceS, result } = context;
  const gated = facts.machine?.controller.beamOffWhenStopped ?? null;
  const burning = burningDwells(toolpath, gated, pierceS);
  if (burning.items.length === 0) return nothing();
  if (!isOpen(result, RULE)) {
    const location = onLineOf(context, burning.items[0]!.place.line);
    return nothing([{ what: 'Dwells with the beam on', location, why: `${RULE} is waived here` }]);
  }
  const candidates = burning.items.map(
    (dwell): DwellCandidate => ({
      what: `Switch the beam off ${spanText(dwell)}`,
      location: onLineOf(context, dwell.place.line),
      line: dwell.place.line,
    }),
  );
  return proposalOf(candidates, [], (chosen, editor) => {
    const lines = chosen.map(({ line }) => line);
    return { edited: editor.beamOffWhileStanding(lines), expected: { dark: new Set(lines) }, mirrored: [] };
  });
}

function spanText({ pause, seconds }: Dwell): string {
  return pause ? 'for the pause' : `for the dwell of ${formatTime(seconds)}`;
}
