import type { PowerSetting, Task } from '../../job/model.ts';
import type { Artwork, Handles } from '../../model/artwork.ts';
import type { Toolpath } from '../../model/toolpath.ts';

/** Settings this close to the selected one are the same setting (controllers round). */
const SAME_SETTING = 0.006;
const SAME_FEED = 0.005;

/** Is this setting the selected one? Both are shares of full power. */
export function sameSetting(setting: number, selected: number): boolean {
  return Math.abs(setting - selected) <= SAME_SETTING;
}

/** Is this feed the selected one? Both in mm/s; one that is not stated (NaN) is none. */
export function sameFeed(feedMmPerS: number, selectedMmPerS: number): boolean {
  return Math.abs(feedMmPerS - selectedMmPerS) <= selectedMmPerS * SAME_FEED;
}

/** A colour as the sidecar writes it, as artwork has it: `#rrggbb`, null when it is none. */
export type HexOf = (colour: string) => string | null;

/** Does the task's `strokes` select this element? Every given key must fit. */
function selectsElement(strokes: NonNullable<Task['strokes']>, element: Handles, hexOf: HexOf): boolean {
  if (strokes.stroke !== undefined && hexOf(strokes.stroke) !== element.stroke) return false;
  if (strokes.layer !== undefined && !element.layers.includes(strokes.layer)) return false;
  if (strokes.class !== undefined && !element.classes.includes(strokes.class)) return false;
  if (strokes.id !== undefined && element.id !== strokes.id && !element.layers.includes(strokes.id)) return false;
  return true;
}

/**
 * Which task each element belongs to: the first whose `strokes` fits; what no task selects goes to the one task without
 * a selector, if there is just one. −1: none.
 */
export function taskOfElements(elements: readonly Handles[], tasks: readonly Task[], hexOf: HexOf): number[] {
  const rest = tasks.flatMap((task, index) => (task.strokes === null ? [index] : []));
  const openTask = rest.length === 1 ? rest[0]! : -1;
  return elements.map((element) => {
    const named = tasks.findIndex((task) => task.strokes !== null && selectsElement(task.strokes, element, hexOf));
    return named >= 0 ? named : openTask;
  });
}

/** Which task each outline belongs to: that of its element. */
export function taskOfOutlines(artwork: Artwork, tasks: readonly Task[], hexOf: HexOf): Int32Array {
  const taskOfElement = taskOfElements(artwork.elements, tasks, hexOf);
  return Int32Array.from(artwork.outlines, (outline) => taskOfElement[outline.element] ?? -1);
}

/** The setting as a share of full power; watts are divided by the watts at full setting. */
export function settingOf(power: PowerSetting, fullW: number): number {
  return 'fraction' in power ? power.fraction : fullW > 0 ? power.watts / fullW : 0;
}

/**
 * Which task each stroke belongs to by the tasks' `program` selectors: the first that fits; −1: none does.
 */
export function taskOfStrokesByProgram(toolpath: Toolpath, tasks: readonly Task[], fullW: number): Int32Array {
  const { strokes, labels } = toolpath;
  const of = new Int32Array(strokes.count).fill(-1);
  const labelFits = tasks.map((task) =>
    labels.map((label) => {
      const program = task.program;
      if (!program) return false;
      if (program.comment !== undefined && !sameText(label.comment, program.comment)) return false;
      return program.tool === undefined || label.tool === program.tool;
    }),
  );
  const powers = tasks.map((task) => (task.program?.power ? settingOf(task.program.power, fullW) : null));
  for (let i = 0; i < strokes.count; i++) {
    of[i] = tasks.findIndex((task, t) => {
      if (!task.program || !labelFits[t]![strokes.label[i]!]) return false;
      const feed = task.program.feedMmPerS;
      if (feed !== undefined && !sameFeed(strokes.speedMmPerS[i]!, feed)) return false;
      const power = powers[t]!;
      return power === null || sameSetting(strokes.setting[i]!, power);
    });
  }
  return of;
}

/** Which task each raster area belongs to by the tasks' `program` selectors; its power may lie anywhere between its lowest and its highest. */
export function taskOfAreasByProgram(toolpath: Toolpath, tasks: readonly Task[], fullW: number): Int32Array {
  return Int32Array.from(toolpath.areas, (area) => {
    const label = toolpath.labels[area.label];
    return tasks.findIndex(({ program }) => {
      if (!program || !label) return false;
      if (program.comment !== undefined && !sameText(label.comment, program.comment)) return false;
      if (program.tool !== undefined && label.tool !== program.tool) return false;
      if (program.feedMmPerS !== undefined && !sameFeed(area.speedMmPerS, program.feedMmPerS)) return false;
      if (!program.power) return true;
      const power = settingOf(program.power, fullW);
      return power >= area.minSetting - SAME_SETTING && power <= area.maxSetting + SAME_SETTING;
    });
  });
}

/** Comments fit when they are the same words, whatever the case and the blanks around them. */
function sameText(comment: string | null, wanted: string): boolean {
  return comment !== null && squeeze(comment) === squeeze(wanted);
}

function squeeze(text: string): string {
  return text.trim().replace(/\s+/g, ' ').toLowerCase();
}
