import { describe, expect, it } from 'vitest';
import {
  sameFeed,
  sameSetting,
  settingOf,
  taskOfAreasByProgram,
  taskOfElements,
  taskOfOutlines,
  taskOfStrokesByProgram,
} from '../../../src/facts/tasks/selecting.ts';
import type { Task } from '../../../src/job/model.ts';
import type { Handles } from '../../../src/model/artwork.ts';
import { artwork, plannedTask, rasterArea, toolpath } from '../../rules/build-facts.ts';

/** A colour that is written with a shorthand of its own here, so that it is seen to be asked for. */
const hexOf = (colour: string) => (colour === 'teal' ? '#0b7285' : null);
const drawn = (strokes: Task['strokes']): Task => ({ ...plannedTask(), strokes });
const programmed = (program: Partial<NonNullable<Task['program']>>): Task => ({
  ...plannedTask(),
  program: program as Task['program'],
});
const OPEN = plannedTask();

describe('settings and feeds are the same', () => {
  it('within 0.6 per cent of full power, above and below', () => {
    expect([0.5, 0.5059, 0.4941].map((setting) => sameSetting(setting, 0.5))).toEqual([true, true, true]);
    expect([0.507, 0.493].map((setting) => sameSetting(setting, 0.5))).toEqual([false, false]);
    // To the digit: 0.006 − 0.
    expect(sameSetting(0.006, 0)).toBe(true);
  });

  it('within half a per cent of the selected feed, above and below', () => {
    expect([200, 201, 199].map((feed) => sameFeed(feed, 200))).toEqual([true, true, true]);
    expect([201.1, 198.9].map((feed) => sameFeed(feed, 200))).toEqual([false, false]);
    expect(sameFeed(Number.NaN, 200)).toBe(false);
  });

  it('in watts by the watts at full setting; without those they are none', () => {
    expect(settingOf({ watts: 27 }, 54)).toBe(0.5);
    expect(settingOf({ fraction: 0.3 }, 54)).toBe(0.3);
    expect(settingOf({ fraction: 0.3 }, 0)).toBe(0.3);
    expect(settingOf({ watts: 27 }, 0)).toBe(0);
  });
});

describe('an element of the artwork', () => {
  const element = (change: Partial<Handles> = {}): Handles => ({
    tag: 'path',
    id: 'rim',
    classes: ['cut', 'outer'],
    layers: ['signs', 'gate'],
    stroke: '#0b7285',
    fill: null,
    ...change,
  });
  const fits = (strokes: NonNullable<Task['strokes']>, change: Partial<Handles> = {}) =>
    taskOfElements([element(change)], [drawn(strokes)], hexOf)[0] === 0;

  it('is selected by its stroke, as the sidecar writes colours', () => {
    expect(fits({ stroke: 'teal' })).toBe(true);
    expect(fits({ stroke: 'teal' }, { stroke: '#9c36b5' })).toBe(false);
    expect(fits({ stroke: 'teal' }, { stroke: null })).toBe(false);
  });

  it('is selected by any of its layers and any of its classes', () => {
    expect([fits({ layer: 'signs' }), fits({ layer: 'gate' }), fits({ layer: 'cut' })]).toEqual([true, true, false]);
    expect([fits({ class: 'cut' }), fits({ class: 'outer' }), fits({ class: 'gate' })]).toEqual([true, true, false]);
  });

  it('is selected by its own id or that of a layer', () => {
    expect([fits({ id: 'rim' }), fits({ id: 'gate' }), fits({ id: 'outer' })]).toEqual([true, true, false]);
    expect(fits({ id: 'rim' }, { id: null })).toBe(false);
  });

  it('has to fit every key that is given', () => {
    const all = { stroke: 'teal', layer: 'gate', class: 'cut', id: 'rim' };
    expect(fits(all)).toBe(true);
    for (const key of Object.keys(all)) expect(fits({ ...all, [key]: 'other' }), key).toBe(false);
  });

  it('belongs to the first task that fits, or else to the one without a selector, if there is just one', () => {
    const rim = drawn({ id: 'rim' });
    const cut = drawn({ class: 'cut' });
    const other = element({ id: 'other', classes: [] });
    const of = (...tasks: Task[]) => taskOfElements([element(), other], tasks, hexOf);
    expect(of(rim, cut)).toEqual([0, -1]);
    expect(of(cut, rim, OPEN)).toEqual([0, 2]);
    expect(of(OPEN, rim)).toEqual([1, 0]);
    expect(of(OPEN, rim, OPEN)).toEqual([1, -1]);
    expect(of(OPEN)).toEqual([0, 0]);
  });

  it('has its task for each of its outlines', () => {
    const [rim] = artwork().outlines;
    const [first] = artwork().elements;
    const two = artwork({
      elements: [first!, { ...first!, id: 'bore' }],
      outlines: [
        { ...rim!, element: 1 },
        { ...rim!, element: 0 },
        { ...rim!, element: 1 },
        { ...rim!, element: 7 },
      ],
    });
    expect([...taskOfOutlines(two, [drawn({ id: 'rim' }), drawn({ id: 'bore' })], hexOf)]).toEqual([1, 0, 1, -1]);
  });
});

describe('strokes of the program', () => {
  const strokes = {
    ...toolpath().strokes,
    setting: Float64Array.of(0.5, 0.5, 0.8, 0.8),
    speedMmPerS: Float64Array.of(10, 20, 10, 20),
    label: Uint32Array.of(0, 0, 1, 2),
  };
  const labels = [
    { comment: 'Outer  rim', tool: 1, line: 1 },
    { comment: null, tool: 2, line: 2 },
    { comment: 'bores', tool: null, line: 3 },
  ];
  const of = (...tasks: Task[]) => [...taskOfStrokesByProgram(toolpath({ strokes, labels }), tasks, 50)];

  it.each<[string, Partial<NonNullable<Task['program']>>, number[]]>([
    ['comment', { comment: ' outer RIM ' }, [0, 0, -1, -1]],
    ['another comment', { comment: 'bores' }, [-1, -1, -1, 0]],
    ['half a comment', { comment: 'rim' }, [-1, -1, -1, -1]],
    ['words run together', { comment: 'outerrim' }, [-1, -1, -1, -1]],
    ['tool', { tool: 2 }, [-1, -1, 0, -1]],
    ['feed', { feedMmPerS: 20 }, [-1, 0, -1, 0]],
    ['power', { power: { fraction: 0.8 } }, [-1, -1, 0, 0]],
    ['power in watts of 50', { power: { watts: 25 } }, [0, 0, -1, -1]],
    ['no power at all', { power: { fraction: 0 } }, [-1, -1, -1, -1]],
    ['comment and tool', { comment: 'outer rim', tool: 2 }, [-1, -1, -1, -1]],
    ['power and feed', { power: { fraction: 0.8 }, feedMmPerS: 20 }, [-1, -1, -1, 0]],
    ['nothing that would not fit', {}, [0, 0, 0, 0]],
  ])('are selected by %s', (_, program, expected) => {
    expect(of(programmed(program))).toEqual(expected);
  });

  it('belong to the first task that fits, and never to one that says nothing of the program', () => {
    expect(of(OPEN, programmed({ tool: 1 }), programmed({ feedMmPerS: 20 }))).toEqual([1, 1, -1, 2]);
  });
});

describe('raster areas of the program', () => {
  const labels = [
    { comment: 'picture', tool: 3, line: 1 },
    { comment: null, tool: null, line: 2 },
  ];
  const area = (change: Partial<ReturnType<typeof rasterArea>> = {}) => ({
    ...rasterArea(0.6),
    minSetting: 0.2,
    speedMmPerS: 100,
    ...change,
  });
  const of = (areas: ReturnType<typeof area>[], ...tasks: Task[]) => [
    ...taskOfAreasByProgram(toolpath({ areas, labels }), tasks, 50),
  ];

  it.each<[string, Partial<NonNullable<Task['program']>>, number[]]>([
    ['comment', { comment: 'Picture' }, [0, -1]],
    ['tool', { tool: 3 }, [0, -1]],
    ['feed', { feedMmPerS: 90 }, [-1, 0]],
    ['nothing that would not fit', {}, [0, 0]],
    ['comment, tool and feed', { comment: 'picture', tool: 3, feedMmPerS: 100 }, [0, -1]],
    ['comment and another feed', { comment: 'picture', feedMmPerS: 90 }, [-1, -1]],
  ])('are selected by %s', (_, program, expected) => {
    expect(of([area(), area({ label: 1, speedMmPerS: 90 })], programmed(program))).toEqual(expected);
  });

  it('are selected by a power anywhere between their lowest and their highest, to 0.6 per cent', () => {
    const byPower = (fraction: number) => of([area()], programmed({ power: { fraction } }))[0] === 0;
    expect([0.195, 0.2, 0.4, 0.6, 0.605].map(byPower)).toEqual([true, true, true, true, true]);
    expect([0.193, 0.607].map(byPower)).toEqual([false, false]);
    expect(of([area()], programmed({ power: { watts: 20 } }))).toEqual([0]);
    expect(of([area()], programmed({ power: { watts: 40 } }))).toEqual([-1]);
  });

  it('belong to the first task that fits, and to none without a label', () => {
    expect(of([area()], OPEN, programmed({ tool: 3 }), programmed({ comment: 'picture' }))).toEqual([1]);
    expect(of([area({ label: 9 })], programmed({}))).toEqual([-1]);
  });
});
