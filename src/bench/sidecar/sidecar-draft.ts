import type { Aim, Artwork, DrawnElement, Toolpath } from '../../facts/types.ts';
import { formatMm } from '../../units/format.ts';
import { writtenPercent, writtenSpeed } from '../../units/written.ts';
import { commentedMap, editorLine, oneLine, remarked, type YamlLine, yamlText } from '../commented-yaml.ts';
import type { FoundRecipe, RecipeSelector } from './recipes-found.ts';

/** What somebody said of the recipes of a program. */
export interface RecipeAnswers {
  readonly of: readonly { readonly recipe: FoundRecipe; readonly aim: Aim }[];
  /** The program has surface areas besides. */
  readonly areas: boolean;
}

/** What a sidecar is drafted from; null for what is not known and has to be filled in. */
export interface DraftInput {
  /** File names relative to the sidecar; the contents are null when they could not be read. */
  toolpath: { file: string; program: Toolpath | null } | null;
  artwork: { file: string; drawing: Artwork | null } | null;
  machine: string | null;
  lens: string | null;
  material: string | null;
  /** As typed. */
  thickness: string | null;
  /** What was answered of the toolpath's recipes; null or absent where nobody was asked, and the tasks are guessed at. */
  answers?: RecipeAnswers | null;
  /** The folder of the JSON Schemas as seen from the sidecar, for editors; null where it is not known. */
  schemas: string | null;
}

/** More groups than this are the person's to sort. */
const MOST_TASKS = 12;

const aim = () => remarked('through', 'or groove (a line of limited depth), or surface (an area is marked)');

/**
 * A commented sidecar for files that have none. What kerflint cannot know is left empty with a word on how to find it; a
 * check names each line that is still empty.
 */
export function sidecarDraft(input: DraftInput): string {
  const { toolpath, artwork, lens, material } = input;
  const tasks = draftTasks(input);
  return yamlText([
    ...editorLine(input.schemas, 'job'),
    ['kerflint', 1],
    ['machine', filled(input.machine, 'the id in the name of its profile, <id>.machine.yaml')],
    lens === null ? 'lens: # the lens that is fitted, as the profile names it' : ['lens', lens],
    [
      'material',
      material ??
        remarked('unknown', 'its id or name (kerflint knows the usual ones); unknown is honest, and never passes'),
    ],
    ['thickness', filled(input.thickness, 'measured with a calliper, for instance 6.0 mm ± 0.2 mm')],
    'face: bare # masked, if the face is taped',
    'sheet: { width: 600 mm, height: 300 mm, price: 14.50 EUR }',
    ...(toolpath === null ? [] : ['zero: sheet-corner # what X0 Y0 means: machine, sheet-corner or set-by-hand']),
    ...(toolpath === null ? [] : [['toolpath', toolpath.file] as const]),
    ...(artwork === null ? [] : [['artwork', artwork.file] as const]),
    ...(tasks.length === 0 ? [] : [['tasks', tasks] as const]),
  ]);
}

function filled(value: string | null, how: string): unknown {
  return value ?? remarked(null, `fill in: ${how}`);
}

function draftTasks({ toolpath, artwork, answers }: DraftInput): unknown[] {
  if (answers) return tasksOfAnswers(answers);
  if (artwork?.drawing) return tasksOfDrawing(artwork.drawing, artwork.file, toolpath === null);
  return toolpath?.program ? tasksOfProgram(toolpath.program) : [];
}

/**
 * One task for each stroke colour of the drawing, or for each layer where the colour tells nothing apart; longest first. No
 * colour and no layer means anything by itself, so all are through.
 * @param alone no toolpath tells what is programmed: power and speed have to be planned.
 */
function tasksOfDrawing(drawing: Artwork, file: string, alone: boolean): unknown[] {
  const byColour = grouped(drawing, ({ stroke }) => (stroke?.startsWith('#') ? stroke : null));
  const byLayer = grouped(drawing, ({ layers }) => layers[0] ?? null);
  const layered = byColour.length < 2 && byLayer.length > 1;
  const groups = layered ? byLayer : byColour;
  const plan: YamlLine[] = alone
    ? [
        ['power', filled(null, 'as planned, for instance 80 %')],
        ['speed', filled(null, 'as planned, for instance 10 mm/s')],
      ]
    : ['power: 80 % # as planned: what stands here is held against the toolpath', 'speed: 10 mm/s'];
  return groups.slice(0, MOST_TASKS).map(([key, lengthMm], i) => {
    const plainName = groups.length === 1 ? 'cut' : `group ${i + 1}`;
    return commentedMap([
      ['name', layered ? key.slice(0, 60) : plainName],
      ['aim', aim()],
      ['strokes', remarked(oneLine({ [layered ? 'layer' : 'stroke']: key }), `${formatMm(lengthMm, 0)} of ${file}`)],
      ...plan,
      'passes: 1',
    ]);
  });
}

/** What the outlines are told apart by, with the length of each group; longest first. */
function grouped(drawing: Artwork, keyOf: (element: DrawnElement) => string | null): [string, number][] {
  const lengths = new Map<string, number>();
  for (const outline of drawing.outlines) {
    const element = drawing.elements[outline.element];
    const key = element === undefined ? null : keyOf(element);
    if (key !== null) lengths.set(key, (lengths.get(key) ?? 0) + outline.lengthMm);
  }
  return [...lengths].sort(([a, x], [b, y]) => y - x || (a < b ? -1 : 1));
}

/** One task for each comment of the program under which the beam cuts, in program order. */
function tasksOfProgram({ labels, strokes }: Toolpath): unknown[] {
  const used = new Map<string, { speedMmPerS: number; setting: number }>();
  for (let i = 0; i < strokes.count; i++) {
    const comment = labels[strokes.label[i]!]?.comment;
    if (!comment || used.has(comment)) continue;
    used.set(comment, { speedMmPerS: strokes.speedMmPerS[i]!, setting: strokes.setting[i]! });
  }
  return [...used]
    .slice(0, MOST_TASKS)
    .map(([comment, { speedMmPerS, setting }]) =>
      commentedMap([
        ['name', comment.slice(0, 60)],
        ['aim', aim()],
        ['program', oneLine({ comment })],
        `power: ${writtenPercent(setting)} # as programmed: what stands here is held against the toolpath`,
        ...(speedMmPerS > 0 ? [`speed: ${writtenSpeed(speedMmPerS)}`] : []),
      ]),
    );
}

/** One task for each recipe, as somebody said what it is for. */
function tasksOfAnswers({ of, areas }: RecipeAnswers): unknown[] {
  const tasks = of.flatMap(({ recipe, aim }) => {
    // A surface is marked in each pass; what parts needs its passes together, and is then all that no other task selects.
    const apart = recipe.selectors.length === 1 || aim === 'surface';
    return apart ? recipe.selectors.map((one) => taskOfAnswer(recipe, aim, one)) : [taskOfAnswer(recipe, aim, null)];
  });
  return areas
    ? [
        ...tasks,
        commentedMap([
          ['name', 'areas'],
          ['aim', 'surface'],
        ]),
      ]
    : tasks;
}

/** @param selector null: all that no other task selects. */
function taskOfAnswer({ fewestPasses, mostPasses, selectors }: FoundRecipe, aim: Aim, selector: RecipeSelector | null) {
  if (selector === null)
    return commentedMap([
      ['name', 'in differing passes'],
      ['aim', aim],
    ]);
  const { setting, feedMmPerS } = selector;
  const power = writtenPercent(setting);
  const speed = feedMmPerS === null ? null : writtenSpeed(feedMmPerS);
  const alike = fewestPasses === mostPasses && selectors.length === 1;
  return commentedMap([
    ['name', speed === null ? power : `${power} at ${speed}`],
    ['aim', aim],
    ['program', oneLine({ ...(speed === null ? {} : { feed: speed }), power })],
    ['power', power],
    ...(speed === null ? [] : [['speed', speed] as const]),
    ...(alike ? [['passes', mostPasses] as const] : []),
  ]);
}
