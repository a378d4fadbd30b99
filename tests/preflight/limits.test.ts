import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { SEARCHES, type Search } from '../../src/facts/searches.ts';
import type { WorkBudget } from '../../src/units/work.ts';

/**
 * Every limit on work, memory or size on the way from a job's files to its facts, with what becomes of what lies beyond it: the
 * searches that then say that they ended early, or in words how it is told, or why nothing is lost. A new limit has to be entered.
 */
const LIMITS: Record<string, readonly Search[] | string> = {
  // Geometry.
  MOST_NEAR: 'nothing is lost: what is too crowded for the list is searched for in an index',
  LONGEST_PART_MM: 'nothing is lost: the size of the parts of an index',
  MOST_ADDED: 'nothing is lost: an index that shows more candidates than it need',
  MOST_LISTED: ['passes'],
  MOST_TILES_EACH: 'nothing is lost: pairs are searched for in an index instead',
  MOST_CELLS: 'nothing is lost: the cells of a tile are larger',
  MOST_CELLS_EACH: 'nothing is lost: pairs are searched for in an index instead',
  MOST_COMPARED_EACH: 'nothing is lost: pairs are searched for in an index instead',
  MOST_PAIRS_EACH: 'nothing is lost: pairs are searched for in an index instead',
  MOST_SQUARES: 'nothing is lost: loose ends are searched for in an index instead',
  MOST_IN_A_SQUARE: 'nothing is lost: lines near a place are searched for in an index instead',
  MOST_ENTRIES: 'nothing is lost: lines near a place are searched for in an index instead',
  MOST_CROSSINGS: ['crossings'],
  MOST_CORNERS: 'a loop that is not measured counts as a crossing, and is found',
  MOST_FITTED: ['placement', 'tasks'],
  MOST_JUDGED: ['placement', 'tasks'],
  MOST_VOTING: 'nothing is lost: the longest outlines vote, and what is voted for is measured along all lines',
  MOST_SCALE: 'a drawing two hundred times as large as another is not the same drawing: match/not-found says so',
  MOST_CHORDS: 'an arc of many turns or a vast radius is followed more coarsely than asked',
  // Facts.
  MOST_RECIPES: 'recipes are taken together in coarser steps, to the weak side',
  MOST_PASSES: 'remedies with more passes are not proposed',
  MOST_POINTS: 'the picture has its corners on a coarser grid, and says so',
  MOST_POINTS_OF_RUN: 'the picture has its corners on a coarser grid, and says so',
  MOST_DOUBLINGS: 'places that far apart are none of a sheet: the picture stays empty',
  MOST_TIMES: 'further runs of a line are not tried on the page; times of further pieces are told together',
  MOST_VALUES: 'a slider has coarser steps',
  MOST_FOCUS_STEPS: 'nothing is lost: the positions of the focus that are tried lie farther apart in thick sheets',
  MOST_NAMED: 'tasks that a reason names: the others are counted',
  MOST_MARKS: 'a waiver in a comment beyond it does not count: its finding stays open',
  // Recipes.
  MOST_LAYERS: 'no stack of more layers is proposed: they are a nuisance to align and glue',
  MOST_OFF: 'no stack is proposed that differs more from the thickness asked for',
  // Toolpaths.
  MOST_KEPT: 'speed and passes of so long a program cannot be tried on the page, which says so',
  MOST_LINES: 'a fix that touches more lines is refused, with the reason',
  LONGEST_NUMBER: 'a fix is refused on a line with such a number',
  MOST_DWELLS: ['dwells'],
  MOST_LABELS: ['tasks'],
  MOST_KINDS: 'further problems are counted on the first of their code',
  STROKE_LIMIT: 'the toolpath counts as not analysed, with a finding',
  TRAVEL_LIMIT: 'the picture counts the lines that it leaves out',
  LINE_LIMIT: 'the toolpath counts as not analysed, with a finding',
  NUMBER_LIMIT: 'a finding on the number, which is not used',
  COORDINATE_LIMIT: 'a finding on the number, which is not used',
  CENTRE_LIMIT: 'a finding on the arc, which is taken for a straight line',
  DWELL_LIMIT: 'a finding on the number, which is not used',
  // Artwork.
  MOST_CLIP_WORK: ['drawn-lines', 'tasks'],
  MOST_CONTENT: ['drawn-lines', 'tasks'],
  MOST_LOOKS: ['drawn-lines', 'tasks'],
  LONGEST_CLIP_CHAIN: 'a finding on the clip path, as on one that leads back to itself',
  LARGEST_ARTWORK_BYTES: 'the file cannot be read, with a finding',
  MOST_ELEMENTS: 'the artwork counts as not read to its end, with a finding',
  DEFAULT_MOST_USED: 'the artwork counts as not read to its end, with a finding',
  DEFAULT_MOST_POINTS: 'the artwork counts as not read to its end, with a finding',
  DEEPEST_NESTING: 'the artwork counts as not read to its end, with a finding',
  MOST_FAULT_WORK: 'a finding on the style sheet, which is given up',
  DEEPEST_AT_RULE: 'a finding on the style sheet',
  LONGEST_VALUE: 'a finding on the value, which is ignored',
  LONGEST_ENTITY: 'a finding on the entity, which is not expanded',
  MOST_REPLACED: 'a finding on the entity, which is not expanded',
  MOST_CHARACTERS: 'an image whose size is not known by then is not judged by its pixels',
  MOST_HALVINGS: 'the length of a curve is known less exactly',
  MOST_OF_ONE_CODE: 'further problems are counted on the first of their code',
  LONGEST_QUOTE: 'a quotation is cut, with an ellipsis',
  MOST_TRANSFORMS: 'nothing is lost: what is not remembered is read again',
  MOST_KNOWN: 'nothing is lost: what is not remembered is read again',
  MOST_REMEMBERED: 'nothing is lost: what is not remembered is read again',
  // Sources.
  LONGEST_BYTES: 'a waiver on a longer line does not count: its finding stays open',
};

/** The same for the shares of the work that a job may ask for (src/units/work.ts). */
const SHARES: Record<keyof WorkBudget, readonly Search[] | string> = {
  passes: ['passes'],
  predictedPasses: ['passes'],
  coverage: ['missing-lines', 'extra-lines', 'tasks'],
  duplicates: ['duplicates'],
  crossings: ['crossings'],
  webs: ['webs'],
  outlinePoints: 'the artwork counts as not read to its end, with a finding',
  repeatedElements: 'the artwork counts as not read to its end, with a finding',
};

const ROOMS = ['facts', 'geometry', 'model', 'gcode', 'svg', 'source'];
const LIMIT = /^(?:export )?const ((?:\w+_)?(?:MOST|LARGEST|LONGEST|DEEPEST)_\w+|\w+_LIMIT)\b/gm;

const written = ROOMS.flatMap((room) => {
  const folder = new URL(`../../src/${room}/`, import.meta.url);
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .flatMap((name) => [...readFileSync(new URL(name, folder), 'utf8').matchAll(LIMIT)].map(([, limit]) => limit!));
});

describe('limits', () => {
  it('are all entered with what becomes of what lies beyond, and none is entered that there is not', () => {
    expect(Object.keys(LIMITS).sort()).toEqual([...new Set(written)].sort());
  });

  it('are behind every search that may end early', () => {
    const all = [...Object.values(LIMITS), ...Object.values(SHARES)];
    const behind = new Set(all.flatMap((one) => (typeof one === 'string' ? [] : one)));
    expect([...behind].sort()).toEqual(Object.keys(SEARCHES).sort());
  });
});
