import type { Stretch, Stretches } from '../../geometry/overlap/overlap.ts';
import type { Aim } from '../../job/model.ts';
import type { RecipeGroup, UnevenStretches } from './recipe.ts';

/** Overlaps shorter than this are how outlines begin and end, not passes, mm. */
const SHORT_MM = 1;

/** Ends of stretches within about this of each other are one joint, mm. */
const CELL_MM = 0.1;

/** Cells of one row; coordinates beyond a kilometre never become stretches. */
const ROW = 2 ** 26;

/** What is asked of a group of stretches here. */
type Group = Pick<RecipeGroup, 'taskIndex' | 'passes' | 'lengthMm'>;

/**
 * A stretch that joins onto stretches with more passes, while most of the task's length gets the larger number, is an
 * outline cut unevenly. An outline that overlaps itself a little where it closes is the reverse, and ordinary. Answers
 * with the groups that fall short so, one a task.
 */
export function unevenGroups<G extends Group>(
  groups: readonly G[],
  stretches: Pick<Stretches, 'each'>,
  taskOf: (stretch: Stretch) => number,
  aimOf: (taskIndex: number) => Aim,
): Map<G, UnevenStretches> {
  const found = new Map<G, UnevenStretches>();
  for (const task of new Set(groups.map((group) => group.taskIndex))) {
    const most = usualPasses(groups.filter((group) => group.taskIndex === task));
    if (aimOf(task) !== 'through' || most === 1) continue;
    const joints = new Set<number>();
    stretches.each((stretch) => {
      if (stretch.listed < most || taskOf(stretch) !== task) return;
      joints.add(cell(stretch.x0, stretch.y0)).add(cell(stretch.x1, stretch.y1));
    });
    let shortMm = 0;
    let fewest = most;
    let stroke = -1;
    stretches.each((stretch) => {
      if (stretch.listed >= most || taskOf(stretch) !== task) return;
      if (!near(joints, stretch.x0, stretch.y0) && !near(joints, stretch.x1, stretch.y1)) return;
      shortMm += stretch.lengthMm;
      fewest = Math.min(fewest, stretch.listed);
      if (stroke < 0) stroke = stretch.owner;
    });
    if (shortMm < SHORT_MM) continue;
    const group = groups.find((one) => one.taskIndex === task && one.passes.length === fewest);
    if (group) found.set(group, { fewest, most, shortMm, stroke });
  }
  return found;
}

/** The number of passes that most of a task's length gets. */
function usualPasses(groups: readonly Group[]): number {
  const lengths = new Map<number, number>();
  for (const { passes, lengthMm } of groups) lengths.set(passes.length, (lengths.get(passes.length) ?? 0) + lengthMm);
  return [...lengths].reduce((a, b) => (b[1] > a[1] ? b : a))[0];
}

function cell(x: number, y: number, dx = 0, dy = 0): number {
  return (Math.round(y / CELL_MM) + dy) * ROW + Math.round(x / CELL_MM) + dx;
}

function near(joints: Set<number>, x: number, y: number): boolean {
  for (let dx = -1; dx <= 1; dx++) for (let dy = -1; dy <= 1; dy++) if (joints.has(cell(x, y, dx, dy))) return true;
  return false;
}
