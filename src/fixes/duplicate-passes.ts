import type { Strokes } from '../model/strokes.ts';
import { formatCount } from '../units/format.ts';
import { onLineOf } from './candidates.ts';
import { type Candidate, type FixContext, nothing, type Proposal, proposalOf } from './fix.ts';
import { linesOfPath, pathsOf, type StrokePath, strokesOfPath } from './paths.ts';

/** So many strokes are held against each other. */
const MOST_STROKES = 200_000;

interface PathCandidate extends Candidate {
  paths: StrokePath[];
}

/** Takes out paths that are run once more exactly as before, beyond the passes that the sidecar plans. */
export function duplicatePasses(context: FixContext): Proposal {
  const { toolpath, facts } = context;
  const { strokes } = toolpath;
  const declined: Proposal['declined'][number][] = [];
  const candidates: PathCandidate[] = [];
  for (const task of facts.tasks) {
    if (task.aim !== 'through') continue;
    const cuts = facts.cuts.filter((cut) => facts.tasks[cut.taskIndex] === task);
    const planned = task.planned?.passes ?? 1;
    if (!cuts.some((cut) => cut.passCount > planned)) continue;
    const what = `Take out passes of task “${task.name}” that are run exactly as before`;
    const location = onLineOf(context, strokes.line[task.strokes[0]!]!);
    if (task.strokes.length > MOST_STROKES) {
      declined.push({ what, location, why: `it has more than ${MOST_STROKES} strokes` });
      continue;
    }
    const extra = repeated(strokes, pathsOf(strokes, task.strokes), planned);
    const [first] = extra;
    if (first === undefined) continue;
    if (task.planned === null) {
      declined.push({ what, location, why: 'no sidecar says how many passes are planned' });
      continue;
    }
    const count = formatCount(extra.length, 'path');
    candidates.push({
      what: `Take out ${count} of task “${task.name}” that ${extra.length === 1 ? 'is' : 'are'} run exactly as before, beyond the ${formatCount(planned, 'pass', 'passes')} planned`,
      location: onLineOf(context, strokes.line[first.first]!),
      paths: extra,
    });
  }
  if (candidates.length === 0) return nothing(declined);
  return proposalOf(candidates, declined, (chosen, editor) => {
    const paths = chosen.flatMap((one) => one.paths);
    const left = new Set(paths.flatMap(strokesOfPath));
    const order = Array.from({ length: strokes.count }, (_, i) => i).filter((i) => !left.has(i));
    const edited = editor.withoutPaths(paths.map((path) => linesOfPath(strokes, path)));
    return { edited, expected: { order }, mirrored: [] };
  });
}

/** Those of the paths that are the same as `planned` others before them, to the last number. */
function repeated(strokes: Strokes, paths: readonly StrokePath[], planned: number): StrokePath[] {
  const runs = new Map<string, number>();
  return paths.filter((path) => {
    if (!path.closed) return false;
    const key = strokesOfPath(path)
      .map((i) => KEYS.map((name) => strokes[name][i]).join())
      .join(';');
    const before = runs.get(key) ?? 0;
    runs.set(key, before + 1);
    return before >= planned;
  });
}

const KEYS = [
  'startX',
  'startY',
  'startZ',
  'endX',
  'endY',
  'endZ',
  'centreX',
  'centreY',
  'sweepRad',
  'setting',
  'speedMmPerS',
] as const;
