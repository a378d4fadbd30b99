import { buildFacts } from '../../facts/build.ts';
import type { CutFact, PassFact } from '../../facts/cuts/cut-fact.ts';
import { LineBudget } from '../../facts/drawing/drawn-lines.ts';
import type { JobFacts } from '../../facts/facts.ts';
import type { LoadedReaders } from '../../facts/input/loaded-readers.ts';
import { type BareOptions, resolveJob } from '../../facts/input/resolve.ts';
import { contoursOfStrokes } from '../../facts/strokes/stroke-contours.ts';
import { sameFeed, sameSetting } from '../../facts/tasks/selecting.ts';
import type { Toolpath } from '../../facts/types.ts';
import type { Box } from '../../geometry/outlines/outline.ts';
import type { FoundJob } from '../../job/files/job-opener.ts';
import type { Library } from '../../job/files/library.ts';

/** What tells the moves of a recipe from the others of its program. */
export interface RecipeSelector {
  /** Share of full power, 0..1. */
  readonly setting: number;
  /** Null where the program states no feed. */
  readonly feedMmPerS: number | null;
}

/** Lines that a program cuts alike, and of which nobody has said what they are for. */
export interface FoundRecipe {
  /** Contours, closed or open; each counts once, however often it is run. */
  readonly pieces: number;
  readonly lengthMm: number;
  /** How often they are run. */
  readonly fewestPasses: number;
  readonly mostPasses: number;
  /** Of the first pass as programmed, at the work and at its full speed. */
  readonly powerW: number;
  /** Of the first pass as programmed; null where the program states no feed. */
  readonly speedMmPerS: number | null;
  /** Of the least sure of them that it parts the sheet, 0..1; null where that cannot be predicted. */
  readonly throughProbability: number | null;
  /** One where its settings tell it from all others; several where the passes along a line differ. */
  readonly selectors: readonly RecipeSelector[];
  /** For a small picture: chains of points x0, y0, x1, y1, … in mm, Y up; simplified, and only as many as such a picture can show. */
  readonly lines: readonly (readonly number[])[];
  /** Line of the program where it begins first. */
  readonly line: number;
}

/** What a program cuts, as questions to whoever wrote it. */
export interface RecipesFound {
  /** The surest to part the sheet comes last. */
  readonly recipes: readonly FoundRecipe[];
  /** Surface areas, which the program tells from lines by itself. */
  readonly areas: number;
  /** Everything that fires lies in here; null where nothing does. */
  readonly view: Box | null;
}

/** More recipes than this are more than anybody answers: the rest are asked about together. */
const MOST_ASKED = 12;
/** Points of all recipes' pictures together, and how far lines are simplified for them, as a share of the larger side. */
const POINTS = 3000;
const SIMPLIFY_SHARE = 0.004;

/**
 * The recipes of a toolpath that no sidecar describes. Empty where machine, power scale or a readable program is missing: then there is
 * nothing to ask about.
 * @throws SourceUnreadable never: a file that cannot be read has no recipes
 */
export function recipesFound(
  job: FoundJob,
  input: {
    library: Library;
    readers: LoadedReaders;
    options: BareOptions & { today: string };
    onProgress?: (file: string, bytes: number, size: number) => void;
  },
): RecipesFound {
  const { library, readers, options, onProgress } = input;
  const facts = buildFacts({
    ...resolveJob(job, library, options),
    budget: null,
    today: options.today,
    readers,
    ...(onProgress ? { onProgress } : {}),
  });
  return recipesOf(facts);
}

function recipesOf({ toolpath, cuts }: JobFacts): RecipesFound {
  if (toolpath === null || cuts.every(({ passes }) => passes.length === 0))
    return { recipes: [], areas: 0, view: null };
  const { poweredBoundsMm: view, areas } = toolpath;
  const side = view === null ? 0 : Math.max(view.maxX - view.minX, view.maxY - view.minY);
  const budget = new LineBudget(POINTS, side * SIMPLIFY_SHARE);
  const recipes = asked(cuts.filter(({ passes }) => passes.length > 0)).map((group) =>
    recipeOf(group, toolpath, budget),
  );
  return { recipes: recipes.sort(surestLast), areas: areas.length, view };
}

/** Cuts that are asked about together, with the settings that are theirs alone. */
interface Group {
  selectors: RecipeSelector[];
  cuts: CutFact[];
}

/**
 * A sidecar can tell moves apart by power and feed. Cuts that share a setting are therefore asked about together; those whose passes
 * differ have no setting of their own, and are all one question, as are those beyond the most that are asked.
 */
function asked(cuts: readonly CutFact[]): Group[] {
  let groups: Group[] = [];
  for (const cut of cuts) {
    const joined: Group = { selectors: [], cuts: [cut] };
    for (const pass of cut.passes) {
      if (!joined.selectors.some((one) => selects(one, pass))) joined.selectors.push(selectorOf(pass));
    }
    const touches = (group: Group) => group.selectors.some((one) => cut.passes.some((pass) => selects(one, pass)));
    groups = [...groups.filter((group) => !touches(group)), merged([...groups.filter(touches), joined])];
  }
  const alone = groups.filter(({ selectors }) => selectors.length === 1);
  const byLength = [...alone].sort((a, b) => lengthOf(b) - lengthOf(a));
  const kept = byLength.slice(0, MOST_ASKED);
  const together = groups.filter((group) => !kept.includes(group));
  return together.length === 0 ? kept : [...kept, merged(together)];
}

function merged(groups: readonly Group[]): Group {
  const selectors: RecipeSelector[] = [];
  for (const one of groups.flatMap((group) => group.selectors)) {
    const known = selectors.some(
      (other) => sameSetting(one.setting, other.setting) && sameFeedOrNone(one.feedMmPerS, other.feedMmPerS),
    );
    if (!known) selectors.push(one);
  }
  return { selectors, cuts: groups.flatMap((group) => group.cuts) };
}

function selectorOf({ setting, programmedMmPerS }: PassFact): RecipeSelector {
  return { setting, feedMmPerS: programmedMmPerS > 0 ? programmedMmPerS : null };
}

function selects(one: RecipeSelector, pass: PassFact): boolean {
  const { setting, feedMmPerS } = selectorOf(pass);
  return sameSetting(setting, one.setting) && sameFeedOrNone(feedMmPerS, one.feedMmPerS);
}

function sameFeedOrNone(a: number | null, b: number | null): boolean {
  return a === null || b === null ? a === b : sameFeed(a, b);
}

const lengthOf = ({ cuts }: Group) => cuts.reduce((sum, { lengthMm }) => sum + lengthMm, 0);

function recipeOf(group: Group, toolpath: Toolpath, budget: LineBudget): FoundRecipe {
  const { selectors, cuts } = group;
  const lines: number[][] = [];
  const seen = new Set<string>();
  for (const { strokes } of cuts) {
    for (const { xy, closed } of contoursOfStrokes(toolpath.strokes, strokes)) {
      const where = placeOf(xy);
      // Run again, a contour is the same piece.
      if (seen.has(where)) continue;
      seen.add(where);
      budget.add(lines, xy, closed);
    }
  }
  const first = cuts[0]!;
  const chances = cuts.map(({ prediction }) => prediction?.throughProbability ?? null);
  const passes = cuts.map(({ passCount }) => passCount);
  return {
    pieces: seen.size,
    lengthMm: lengthOf(group),
    fewestPasses: Math.min(...passes),
    mostPasses: Math.max(...passes),
    powerW: programmedW(first.passes[0]!),
    speedMmPerS: selectorOf(first.passes[0]!).feedMmPerS,
    throughProbability: chances.includes(null) ? null : Math.min(...(chances as number[])),
    selectors,
    lines,
    line: Math.min(...cuts.map(({ location }) => location.line)),
  };
}

/** Where power follows the speed and the programmed one is never reached, facts have less. */
function programmedW({ powerW, scaled, speedMmPerS, programmedMmPerS }: PassFact): number {
  return scaled && speedMmPerS > 0 && programmedMmPerS > 0 ? (powerW * programmedMmPerS) / speedMmPerS : powerW;
}

/** Where a contour lies, to a tenth of a millimetre, whichever way round and wherever on it the head began. */
function placeOf(xy: ArrayLike<number>): string {
  const box = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i + 1 < xy.length; i += 2) {
    box[0] = Math.min(box[0]!, xy[i]!);
    box[1] = Math.min(box[1]!, xy[i + 1]!);
    box[2] = Math.max(box[2]!, xy[i]!);
    box[3] = Math.max(box[3]!, xy[i + 1]!);
  }
  return box.map((mm) => mm.toFixed(1)).join();
}

function surestLast(a: FoundRecipe, b: FoundRecipe): number {
  return (a.throughProbability ?? -1) - (b.throughProbability ?? -1) || a.line - b.line;
}
