import { STROKE_AIR } from '../model/strokes.ts';
import { formatCount } from '../units/format.ts';
import { isOpen, onLineOf } from './candidates.ts';
import { type Candidate, type FixContext, nothing, type Proposal, proposalOf } from './fix.ts';
import { linesOfPath } from './paths.ts';

const RULE = 'toolpath/air-off';

interface AirCandidate extends Candidate {
  runs: { first: number; last: number }[];
}

/** Switches the air on for through cuts that run without it, by the words that the machine's profile states. */
export function air(context: FixContext): Proposal {
  const { facts, toolpath, result } = context;
  const { strokes } = toolpath;
  if (!isOpen(result, RULE)) return nothing();
  const without = facts.tasks
    // A task that plans no air gets none.
    .filter(({ aim, planned }) => aim === 'through' && planned?.airBar !== 0)
    .flatMap((task) => [...task.strokes])
    .filter((i) => (strokes.flags[i]! & STROKE_AIR) === 0)
    .sort((a, b) => a - b);
  const [first] = without;
  if (first === undefined) return nothing();
  const location = onLineOf(context, strokes.line[first]!);
  const words = facts.machine?.air?.switched ?? null;
  if (words === null) {
    const why = 'the machine’s profile does not say how the air is switched (`air: { on: M8, off: M9 }`)';
    return nothing([{ what: 'Switch the air on for through cuts', location, why }]);
  }
  const runs: AirCandidate['runs'] = [];
  for (const i of without) {
    const open = runs.at(-1);
    if (open !== undefined && i === open.last + 1) open.last = i;
    else runs.push({ first: i, last: i });
  }
  const count = formatCount(runs.length, 'stretch', 'stretches');
  const what = `Switch the air on (${words.on}) for ${count} of through cuts, and off again (${words.off})`;
  const candidate: AirCandidate = { what, location, runs };
  return proposalOf([candidate], [], (_, editor) => ({
    edited: editor.withAir(
      runs.map((run) => linesOfPath(strokes, run)),
      words,
    ),
    expected: { air: new Set(without) },
    mirrored: [],
  }));
}
