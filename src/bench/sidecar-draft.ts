import type { Artwork, DrawnElement } from '../model/artwork.ts';
import type { Toolpath } from '../model/toolpath.ts';
import { formatMm } from '../units/format.ts';
import { scalar, shareText, speedText } from './yaml-text.ts';

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
  /** Where the JSON Schema is, for editors. */
  schema: string;
}

/** More groups than this are the person's to sort. */
const MOST_TASKS = 12;

/**
 * A commented sidecar for files that have none. What kerflint cannot know is left empty with a word on how to find it; a
 * check names each line that is still empty.
 */
export function sidecarDraft(input: DraftInput): string {
  const { toolpath, artwork } = input;
  const tasks = artwork?.drawing
    ? tasksOfDrawing(artwork.drawing, artwork.file, toolpath === null)
    : toolpath?.program
      ? tasksOfProgram(toolpath.program)
      : [];
  const lines = [
    `# yaml-language-server: $schema=${input.schema}`,
    'kerflint: 1',
    filled('machine', input.machine, 'the id in the name of its profile, <id>.machine.yaml'),
    input.lens === null
      ? '# lens:                    # the lens that is fitted, as the profile names it'
      : `lens: ${scalar(input.lens)}`,
    input.material === null
      ? 'material: unknown          # its id or name (kerflint knows the usual ones); unknown is honest, and never passes'
      : `material: ${scalar(input.material)}`,
    filled('thickness', input.thickness, 'measured with a calliper, for instance 6.0 mm ± 0.2 mm'),
    '# face: bare               # masked, if the face is taped',
    '# sheet: { width: 600 mm, height: 300 mm, price: 14.50 EUR }',
    ...(toolpath === null
      ? []
      : ['# zero: sheet-corner        # what X0 Y0 means: machine, sheet-corner or set-by-hand']),
    ...(toolpath === null ? [] : [`toolpath: ${scalar(toolpath.file)}`]),
    ...(artwork === null ? [] : [`artwork: ${scalar(artwork.file)}`]),
    ...(tasks.length === 0 ? [] : ['tasks:', ...tasks]),
  ];
  return `${lines.join('\n')}\n`;
}

function filled(key: string, value: string | null, how: string): string {
  return value === null
    ? `${key}:${' '.repeat(Math.max(1, 26 - key.length))}# fill in: ${how}`
    : `${key}: ${scalar(value)}`;
}

/**
 * One task for each stroke colour of the drawing, or for each layer where the colour tells nothing apart; longest first. No
 * colour and no layer means anything by itself, so all are through.
 */
function tasksOfDrawing(drawing: Artwork, file: string, alone: boolean): string[] {
  const byColour = grouped(drawing, ({ stroke }) => (stroke?.startsWith('#') ? stroke : null));
  const byLayer = grouped(drawing, ({ layers }) => layers[0] ?? null);
  const layered = byColour.length < 2 && byLayer.length > 1;
  const groups = layered ? byLayer : byColour;
  return groups
    .slice(0, MOST_TASKS)
    .flatMap(([key, lengthMm], i) => [
      `  - name: ${layered ? JSON.stringify(key.slice(0, 60)) : groups.length === 1 ? 'cut' : `group ${i + 1}`}`,
      '    aim: through             # or groove (a line of limited depth), or surface (an area is marked)',
      `    strokes: { ${layered ? 'layer' : 'stroke'}: ${JSON.stringify(key)} }  # ${formatMm(lengthMm, 0)} of ${file.replace(/\s/g, ' ')}`,
      ...(alone
        ? [
            '    power:                   # fill in: as planned, for instance 80 %',
            '    speed:                   # fill in: as planned, for instance 10 mm/s',
          ]
        : [
            '    # power: 80 %            # as planned: what stands here is held against the toolpath',
            '    # speed: 10 mm/s',
          ]),
      '    # passes: 1',
    ]);
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
function tasksOfProgram({ labels, strokes }: Toolpath): string[] {
  const used = new Map<string, { speedMmPerS: number; setting: number }>();
  for (let i = 0; i < strokes.count; i++) {
    const comment = labels[strokes.label[i]!]?.comment;
    if (!comment || used.has(comment)) continue;
    used.set(comment, { speedMmPerS: strokes.speedMmPerS[i]!, setting: strokes.setting[i]! });
  }
  return [...used]
    .slice(0, MOST_TASKS)
    .flatMap(([comment, { speedMmPerS, setting }]) => [
      `  - name: ${JSON.stringify(comment.slice(0, 60))}`,
      '    aim: through             # or groove (a line of limited depth), or surface (an area is marked)',
      `    program: { comment: ${JSON.stringify(comment)} }`,
      `    # power: ${shareText(setting)}  # as programmed: what stands here is held against the toolpath`,
      ...(speedMmPerS > 0 ? [`    # speed: ${speedText(speedMmPerS)}`] : []),
    ]);
}
