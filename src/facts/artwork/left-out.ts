import type { Task } from '../../job/model.ts';
import type { Artwork, LeftOut, LeftOutKind } from '../../model/artwork.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import { formatCount } from '../../units/format.ts';
import { quoted } from '../../units/quoted.ts';
import type { JobOrigin } from '../input/job-origin.ts';
import { type HexOf, taskOfElements } from '../tasks/selecting.ts';
import { PARTS, type Unanswered } from '../unanswered/unanswered.ts';

/** What was left out, in words, and what to do about it. */
const WORDS: Readonly<Record<LeftOutKind, { one: string; many: string; remedy: string }>> = {
  text: { one: 'piece of live text', many: 'pieces of live text', remedy: 'Convert text to paths.' },
  marker: {
    one: 'line with markers',
    many: 'lines with markers',
    remedy: 'Draw the markers as paths, or take them out.',
  },
  pattern: {
    one: 'shape painted with a pattern',
    many: 'shapes painted with a pattern',
    remedy: 'Draw the lines of the pattern as paths, or choose a plain colour.',
  },
  document: {
    one: 'embedded document',
    many: 'embedded documents',
    remedy: 'Draw what is in it as paths, or take it out.',
  },
  drawing: {
    one: 'drawing placed as an image',
    many: 'drawings placed as images',
    remedy: 'Copy its paths into the file.',
  },
  image: { one: 'image', many: 'images', remedy: 'Draw what is to be cut as paths.' },
  reference: {
    one: 'reference to another file',
    many: 'references to other files',
    remedy: 'Copy what it refers to into the file.',
  },
  animation: { one: 'animated shape', many: 'animated shapes', remedy: 'Take the animation out.' },
  hidden: {
    one: 'hidden or clipped shape',
    many: 'hidden or clipped shapes',
    remedy: 'Delete what is not meant to be cut, or show it.',
  },
};

/** What of an artwork a program may take in or leave out; the toolpath shows what became of it. */
const SETTLED_BY_THE_TOOLPATH: ReadonlySet<LeftOutKind> = new Set(['hidden', 'animation']);

/** How many of one kind were left out, in words: "2 pieces of live text". */
export function leftOutInWords(kind: LeftOutKind, count: number): string {
  const { one, many } = WORDS[kind];
  return formatCount(count, one, many);
}

/**
 * What its outlines lack and a task that parts the sheet would take, so that it is not known whether the sheet parts as the artwork shows:
 * one entry for each kind. An image of pixels parts nothing. Without tasks everything drawn is meant to part the sheet.
 */
export function leftOutUnanswered(input: {
  job: JobOrigin;
  artwork: Artwork | null;
  toolpath: Toolpath | null;
  hexOf: HexOf;
}): Unanswered[] {
  const { job, artwork, toolpath, hexOf } = input;
  if (!artwork || artwork.leftOut.length === 0) return [];
  const planned = job.sidecar?.tasks ?? [];
  const taskOf = planned.length > 0 ? taskOfElements(artwork.leftOut, planned, hexOf) : null;
  const groups = new Map<LeftOutKind, { first: LeftOut; count: number; tasks: Set<string> }>();
  for (const [i, one] of artwork.leftOut.entries()) {
    if (one.kind === 'image' || (toolpath && SETTLED_BY_THE_TOOLPATH.has(one.kind))) continue;
    const task: Task | null = taskOf ? (planned[taskOf[i]!] ?? null) : null;
    if (taskOf && task?.aim !== 'through') continue;
    const group = groups.get(one.kind) ?? { first: one, count: 0, tasks: new Set() };
    group.count++;
    if (task) group.tasks.add(task.name);
    groups.set(one.kind, group);
  }
  const file = job.files.artwork ?? job.home.file;
  return [...groups].map(([kind, { first, count, tasks }]) => {
    const names = [...tasks].map(quoted).join(', ');
    const along = tasks.size === 0 ? 'all strokes' : `the task${tasks.size === 1 ? '' : 's'} ${names}`;
    const where = `line ${first.place.line} of ${file}`;
    const were = count === 1 ? 'was' : 'were';
    return {
      fact: 'artwork',
      what: PARTS,
      missing: `${leftOutInWords(kind, count)} would be cut with ${along} and ${were} not judged (${where})`,
      remedy: WORDS[kind].remedy,
    };
  });
}
