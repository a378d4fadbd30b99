import { describe, expect, it } from 'vitest';
import { leftOutInWords, leftOutUnanswered } from '../../../src/facts/artwork/left-out.ts';
import { LEFT_OUT_KINDS, type LeftOut, type LeftOutKind } from '../../../src/model/artwork.ts';
import { artwork, at, facts, plannedTask, sidecar, toolpath } from '../../rules/build-facts.ts';

/** Something without outlines on a line of the drawing, in a stroke of its own. */
const leftOut = (kind: LeftOutKind, line: number, stroke: string | null = null): LeftOut => ({
  kind,
  place: at('', line),
  tag: 'g',
  id: null,
  classes: [],
  layers: [],
  stroke,
  fill: null,
});

type Tasks = ReturnType<typeof plannedTask>[];

/** The questions that a drawing with these leaves open, under the tasks of a sidecar; without one where they are null. */
function questions(found: LeftOut[], tasks: Tasks | null = [], { program = false, named = true } = {}) {
  const { input } = facts();
  const job = {
    ...input,
    sidecar: tasks && sidecar({ tasks }),
    files: { ...input.files, artwork: named ? input.files.artwork : null },
  };
  return leftOutUnanswered({
    job,
    artwork: artwork({ leftOut: found }),
    toolpath: program ? toolpath() : null,
    hexOf: (colour) => colour,
  });
}

/** What each kind is called, one and several, and what to do about it. */
const SAID: Record<Exclude<LeftOutKind, 'image'>, [one: string, many: string, remedy: string]> = {
  text: ['1 piece of live text', '2 pieces of live text', 'Convert text to paths.'],
  marker: ['1 line with markers', '2 lines with markers', 'Draw the markers as paths, or take them out.'],
  pattern: [
    '1 shape painted with a pattern',
    '2 shapes painted with a pattern',
    'Draw the lines of the pattern as paths, or choose a plain colour.',
  ],
  document: ['1 embedded document', '2 embedded documents', 'Draw what is in it as paths, or take it out.'],
  drawing: ['1 drawing placed as an image', '2 drawings placed as images', 'Copy its paths into the file.'],
  reference: ['1 reference to another file', '2 references to other files', 'Copy what it refers to into the file.'],
  animation: ['1 animated shape', '2 animated shapes', 'Take the animation out.'],
  hidden: [
    '1 hidden or clipped shape',
    '2 hidden or clipped shapes',
    'Delete what is not meant to be cut, or show it.',
  ],
};

describe('what was left out of the artwork, in words', () => {
  it.each(Object.entries(SAID))('%s', (name, [one, many, remedy]) => {
    const kind = name as LeftOutKind;
    const end = 'with all strokes and';
    expect(questions([leftOut(kind, 9)])).toEqual([
      {
        fact: 'artwork',
        what: 'whether the sheet parts',
        missing: `${one} would be cut ${end} was not judged (line 9 of coaster.svg)`,
        remedy,
      },
    ]);
    expect(questions([leftOut(kind, 9), leftOut(kind, 12)])).toMatchObject([
      { missing: `${many} would be cut ${end} were not judged (line 9 of coaster.svg)`, remedy },
    ]);
    expect([leftOutInWords(kind, 1), leftOutInWords(kind, 2)]).toEqual([one, many]);
  });

  it('an image of pixels parts nothing and is counted all the same', () => {
    expect(questions([leftOut('image', 9)])).toEqual([]);
    expect([leftOutInWords('image', 1), leftOutInWords('image', 3)]).toEqual(['1 image', '3 images']);
  });
});

describe('what was left out is asked of', () => {
  const BLUE = '#1864ab';
  const RED = '#c92a2a';
  const task = (name: string, stroke: string, aim: 'through' | 'groove' = 'through') =>
    plannedTask({ name, aim, strokes: { stroke } });

  it('by kind, each with the first of its lines, in the order in which they come first', () => {
    const found = [leftOut('marker', 4), leftOut('text', 7), leftOut('image', 8), leftOut('marker', 9)];
    expect(questions(found).map(({ missing }) => missing)).toEqual([
      '2 lines with markers would be cut with all strokes and were not judged (line 4 of coaster.svg)',
      '1 piece of live text would be cut with all strokes and was not judged (line 7 of coaster.svg)',
    ]);
  });

  it('by the tasks that would take it, each named once', () => {
    const tasks = [task('rims', BLUE), task('holes', RED)];
    const two = [leftOut('text', 4, RED), leftOut('text', 5, BLUE), leftOut('text', 6, RED)];
    expect(questions(two, tasks).map(({ missing }) => missing)).toEqual([
      '3 pieces of live text would be cut with the tasks "holes", "rims" and were not judged (line 4 of coaster.svg)',
    ]);
    expect(questions(two.slice(0, 1), tasks)[0]!.missing).toContain('would be cut with the task "holes" and was');
  });

  it('only as far as a task that parts the sheet takes it', () => {
    const tasks = [task('names', RED, 'groove'), task('rims', BLUE)];
    const found = [leftOut('text', 4, RED), leftOut('text', 5, '#000000'), leftOut('text', 6, BLUE)];
    expect(questions(found, tasks).map(({ missing }) => missing)).toEqual([
      '1 piece of live text would be cut with the task "rims" and was not judged (line 6 of coaster.svg)',
    ]);
    expect(questions(found.slice(0, 2), tasks)).toEqual([]);
  });

  it('whole where there is no sidecar, in the file that stands for the job where none is named', () => {
    expect(questions([leftOut('text', 4)], null)).toEqual(questions([leftOut('text', 4)], []));
    expect(questions([leftOut('text', 4)], [], { named: false })[0]!.missing).toContain('(line 4 of coaster.job.yaml)');
  });

  it('unless a toolpath shows what became of it: what is hidden, what moves', () => {
    const kinds = (program: boolean) =>
      LEFT_OUT_KINDS.filter((kind) => questions([leftOut(kind, 4)], [], { program }).length > 0);
    expect(kinds(false)).toEqual(LEFT_OUT_KINDS.filter((kind) => kind !== 'image'));
    expect(kinds(true)).toEqual(['text', 'marker', 'pattern', 'document', 'drawing', 'reference']);
  });

  it('nothing where all was read, or nothing is drawn', () => {
    expect(questions([])).toEqual([]);
    const asked = { job: facts().input, artwork: null, toolpath: null, hexOf: () => null };
    expect(leftOutUnanswered(asked)).toEqual([]);
  });
});
