import { describe, expect, it } from 'vitest';
import { assignTasks, lineLocation, unassignedOutlines } from '../../../src/facts/tasks/tasks.ts';
import type { Task } from '../../../src/job/model.ts';
import { STROKE_STARTS_PATH } from '../../../src/model/strokes.ts';
import {
  artwork,
  at,
  facts,
  plannedTask,
  rasterArea,
  sidecar,
  strokesThrough,
  toolpath,
} from '../../rules/build-facts.ts';

type Input = Parameters<typeof assignTasks>[0];

/** Strokes of 20 mm each that are no leads: on one line after another, the beam off between them. */
function fourStrokes() {
  const strokes = strokesThrough([
    [0, 0],
    [20, 0],
    [40, 0],
    [60, 0],
    [80, 0],
  ]);
  strokes.flags.fill(STROKE_STARTS_PATH);
  return strokes;
}

/** A drawing of two outlines, of which the elements are `rim` and `bore`. */
function twoOutlines() {
  const [rim] = artwork().elements;
  const [outline] = artwork().outlines;
  return artwork({
    elements: [rim!, { ...rim!, id: 'bore' }],
    outlines: [outline!, { ...outline!, element: 1 }],
  });
}

const assign = (tasks: Task[], change: Partial<Input> = {}) =>
  assignTasks({
    job: facts().input,
    sidecar: { ...sidecar(), tasks },
    toolpath: toolpath({ strokes: fourStrokes(), areas: [rasterArea(0.6)] }),
    artwork: twoOutlines(),
    hexOf: () => null,
    fullW: 54,
    byGeometry: null,
    ...change,
  });

const task = (name: string, change: Partial<Task>): Task => ({ ...plannedTask({ name }), ...change });
const RIM = task('rim', { strokes: { id: 'rim' } });
const BORE = task('bore', { strokes: { id: 'bore' } });
/** The first two strokes run along the rim, the third along the bore, the last along nothing. */
const ALONG: Input['byGeometry'] = { of: Int32Array.of(0, 0, 1, -1), endedEarly: null };

describe('a job in which no task is planned', () => {
  it('has one that parts all that is drawn or run, told of where its file is named', () => {
    const { tasks, ofStroke, ofArea, ofOutline, orphans, endedEarly } = assign([], {
      sidecar: { ...sidecar(), placeOf: (path) => at(`named by ${path.join()}`, 1) },
    });
    expect(tasks).toEqual([
      { name: 'all strokes', planned: null, aim: 'through', location: at('named by toolpath', 1) },
    ]);
    expect([[...ofStroke], [...ofArea], [...ofOutline]]).toEqual([[0, 0, 0, 0], [-1], [0, 0]]);
    expect([orphans, endedEarly]).toEqual([-1, null]);
  });

  it('is told of where its artwork is named where it has no toolpath, and at its own start without a sidecar', () => {
    const placeOf = (path: readonly (string | number)[]) => at(`named by ${path.join()}`, 1);
    const drawn = assign([], { sidecar: { ...sidecar(), toolpath: null, placeOf }, toolpath: null });
    expect(drawn.tasks[0]!.location.file).toBe('named by artwork');
    expect([drawn.ofStroke.length, drawn.ofArea.length]).toEqual([0, 0]);
    const bare = assign([], { sidecar: null, artwork: null });
    expect(bare.tasks[0]!.location).toEqual(facts().input.home);
    expect(bare.ofOutline).toHaveLength(0);
  });
});

describe('planned tasks', () => {
  it('are told of where their names stand', () => {
    const named = { ...sidecar(), tasks: [RIM, BORE], placeOf: (path: readonly unknown[]) => at(path.join('.'), 1) };
    const { tasks } = assign([], { sidecar: named, byGeometry: ALONG });
    expect(tasks.slice(0, 2)).toEqual([
      { name: 'rim', planned: RIM, aim: 'through', location: at('tasks.0.name', 1) },
      { name: 'bore', planned: BORE, aim: 'through', location: at('tasks.1.name', 1) },
    ]);
  });

  it('have the strokes that run along their outlines; the rest is a task of its own', () => {
    const { tasks, ofStroke, ofOutline, orphans } = assign([RIM, BORE], { byGeometry: ALONG });
    expect([...ofOutline]).toEqual([0, 1]);
    expect([...ofStroke]).toEqual([0, 0, 1, 2]);
    expect(orphans).toBe(2);
    // The fourth stroke stands on line 13 of the program.
    expect(tasks[2]).toEqual({
      name: 'unclaimed strokes',
      planned: null,
      aim: 'groove',
      location: { file: 'coaster.gcode', line: 13, column: 1, endLine: 13, endColumn: 1 },
    });
  });

  it('without strokes left over have no such task', () => {
    const all = { of: Int32Array.of(0, 0, 1, 1), endedEarly: null };
    const { tasks, orphans } = assign([RIM, BORE], { byGeometry: all });
    expect([tasks.length, orphans]).toEqual([2, -1]);
  });

  it('that say which strokes of the program are theirs get none by their outlines', () => {
    const byTool = task('bore', { strokes: { id: 'bore' }, program: { tool: 9 } as Task['program'] });
    expect([...assign([RIM, byTool], { byGeometry: ALONG }).ofStroke]).toEqual([0, 0, 2, 2]);
  });

  it('keep what their selectors say, whatever the strokes run along', () => {
    const byFeed = task('fast', { program: { feedMmPerS: 12 } as Task['program'] });
    const strokes = { ...fourStrokes(), speedMmPerS: Float64Array.of(12, 9, 9, 9) };
    const { ofStroke } = assign([RIM, byFeed, BORE], { byGeometry: ALONG, toolpath: toolpath({ strokes }) });
    expect([...ofStroke]).toEqual([1, 0, 2, 3]);
  });

  it('get nothing by outlines that no task selects', () => {
    expect([...assign([RIM, task('x', { strokes: { id: 'x' } })], { byGeometry: ALONG }).ofStroke]).toEqual([
      0, 0, 2, 2,
    ]);
  });
});

describe('what is left over', () => {
  const surface = (change: Partial<Task> = {}) => task('picture', { aim: 'surface', ...change });
  const elsewhere = { tool: 9 } as Task['program'];

  it('of areas goes to the one surface that does not say which are its own', () => {
    expect([...assign([RIM, surface()]).ofArea]).toEqual([1]);
    expect([...assign([surface({ program: elsewhere }), surface()]).ofArea]).toEqual([1]);
    expect([...assign([surface(), surface()]).ofArea]).toEqual([-1]);
    expect([...assign([RIM, surface({ program: elsewhere })]).ofArea]).toEqual([-1]);
    expect([...assign([RIM]).ofArea]).toEqual([-1]);
  });

  it('of areas leaves those with a task where they are', () => {
    const own = surface({ program: { tool: 3 } as Task['program'] });
    const labels = [{ comment: null, tool: 3, line: 5 }];
    const path = toolpath({ strokes: fourStrokes(), labels, areas: [rasterArea(0.6)] });
    expect([...assign([own, surface()], { toolpath: path }).ofArea]).toEqual([0]);
  });

  it('of strokes goes to the one task that says nothing of program and artwork, and is no surface', () => {
    const open = task('rest', {});
    expect([...assign([RIM, open]).ofStroke]).toEqual([1, 1, 1, 1]);
    expect([...assign([RIM, open], { byGeometry: ALONG }).ofStroke]).toEqual([0, 0, 1, 1]);
    expect([...assign([open, open]).ofStroke]).toEqual([2, 2, 2, 2]);
    expect([...assign([surface(), open]).ofStroke]).toEqual([1, 1, 1, 1]);
    expect([...assign([surface()]).ofStroke]).toEqual([1, 1, 1, 1]);
    expect([...assign([task('rest', { program: elsewhere })]).ofStroke]).toEqual([1, 1, 1, 1]);
  });

  it('of strokes goes to one that selects artwork where there is none', () => {
    expect([...assign([RIM], { artwork: null }).ofStroke]).toEqual([0, 0, 0, 0]);
    expect([...assign([RIM], { artwork: artwork({ outlines: [] }) }).ofStroke]).toEqual([0, 0, 0, 0]);
    expect([...assign([RIM]).ofStroke]).toEqual([1, 1, 1, 1]);
  });

  it('of artwork is listed', () => {
    expect(unassignedOutlines(assign([RIM]))).toEqual([1]);
    expect(unassignedOutlines(assign([BORE]))).toEqual([0]);
    expect(unassignedOutlines(assign([RIM, BORE]))).toEqual([]);
  });
});

describe('why something may belong elsewhere', () => {
  const byComment = task('rim', { program: { comment: 'rim' } as Task['program'] });
  const byTool = task('rim', { program: { tool: 9 } as Task['program'] });
  const byFeed = task('rim', { program: { feedMmPerS: 12 } as Task['program'] });
  const labelled = toolpath({ strokes: fourStrokes(), labelsEndedEarly: 'too many labels' });
  const cutShort: Input['byGeometry'] = { of: Int32Array.of(0, 0, 1, -1), endedEarly: 'too many lines' };
  const why = (tasks: Task[], change: Partial<Input> = {}) => assign(tasks, change).endedEarly;

  it('is that labels were not all kept, where a task is told by comment or tool', () => {
    expect(why([byComment], { toolpath: labelled })).toBe('too many labels');
    expect(why([byTool], { toolpath: labelled })).toBe('too many labels');
    expect(why([byFeed], { toolpath: labelled })).toBeNull();
    expect(why([RIM], { toolpath: labelled })).toBeNull();
    expect(why([byComment], { toolpath: null })).toBeNull();
  });

  it('is that the artwork or the search along its lines ended early', () => {
    const early = { ...twoOutlines(), endedEarly: 'too many outlines' };
    expect(why([RIM], { artwork: early })).toBe('too many outlines');
    expect(why([byComment], { artwork: early, toolpath: labelled, byGeometry: cutShort })).toBe('too many outlines');
    expect(why([byComment], { toolpath: labelled, byGeometry: cutShort })).toBe('too many labels');
    expect(why([RIM, BORE], { byGeometry: cutShort })).toBe('too many lines');
    expect(why([RIM, BORE], { byGeometry: ALONG })).toBeNull();
  });

  it('is not that search where selectors settled all', () => {
    expect(why([byFeed], { byGeometry: cutShort })).toBeNull();
  });
});

it('a line of a file is named from its first column', () => {
  expect(lineLocation('coaster.gcode', 9)).toEqual({
    file: 'coaster.gcode',
    line: 9,
    column: 1,
    endLine: 9,
    endColumn: 1,
  });
});
