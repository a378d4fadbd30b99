import { describe, expect, it, vi } from 'vitest';
import { RULES } from '../../src/cli/registered-rules.ts';
import { SEARCHES, type Search } from '../../src/facts/searches.ts';
import type { RunResult } from '../../src/findings/result.ts';
import { FORMATS, type FormatName } from '../../src/report/formats.ts';
import { reportText } from '../../src/report/report-context.ts';
import { type Files, run, shed } from '../memory-shop.ts';
import { context } from '../report/context.ts';

/**
 * Every search that may end early, each on the files of a job, through to all formats. Where a file can bring that about in a
 * moment it does; the others are given up at limits of work that no test can wait for: their geometry says here that it gave
 * up, and tests/geometry/limits.test.ts holds that it does so at lower limits.
 */
const GIVEN_UP = 'there was too much to compare';
const givingUp = vi.hoisted(() => ({ search: '' as string, coverages: 0 }));

vi.mock('../../src/geometry/overlap/overlap.ts', async (original) => {
  const real = await original<typeof import('../../src/geometry/overlap/overlap.ts')>();
  const findOverlaps: typeof real.findOverlaps = (...args) => {
    const found = real.findOverlaps(...args);
    return givingUp.search === 'duplicates' ? Object.assign(found, { endedEarly: GIVEN_UP }) : found;
  };
  return { ...real, findOverlaps };
});

vi.mock('../../src/geometry/placement/placement.ts', async (original) => {
  const real = await original<typeof import('../../src/geometry/placement/placement.ts')>();
  const findPlacement: typeof real.findPlacement = (...args) =>
    givingUp.search === 'placement' ? { placement: null, endedEarly: GIVEN_UP } : real.findPlacement(...args);
  return { ...real, findPlacement };
});

vi.mock('../../src/geometry/overlap/coverage.ts', async (original) => {
  const real = await original<typeof import('../../src/geometry/overlap/coverage.ts')>();
  const coverageOf: typeof real.coverageOf = (...args) => {
    const found = real.coverageOf(...args);
    // The artwork is measured first, then the toolpath.
    const gaveUp = givingUp.search === ['missing-lines', 'extra-lines'][givingUp.coverages++];
    if (!gaveUp) return found;
    const { missing, pairs } = found;
    return {
      ...found,
      missing: { ...missing, endedEarly: GIVEN_UP },
      pairs: { ...pairs, endedEarly: GIVEN_UP },
    };
  };
  return { ...real, coverageOf };
});

vi.mock('../../src/geometry/outlines/distance.ts', async (original) => {
  const real = await original<typeof import('../../src/geometry/outlines/distance.ts')>();
  const narrowPlaces: typeof real.narrowPlaces = (...args) => {
    const found = real.narrowPlaces(...args);
    return givingUp.search === 'webs' ? { ...found, endedEarly: GIVEN_UP } : found;
  };
  return { ...real, narrowPlaces };
});

const sidecar = (files: string, task = '') => `kerflint: 1
machine: shed-60w
lens: 2in
material: birch-plywood
thickness: 3 mm ± 0.1 mm
zero: machine
${files}tasks:
  - { name: parts, aim: through, power: 80 %, speed: 10 mm/s, air: 1 bar${task} }
`;
const TOOLPATH = 'toolpath: part.gcode\n';
const ARTWORK = 'artwork: part.svg\n';

const svg = (inside: string) =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="200mm" viewBox="0 0 200 200">\n<g stroke="#1864ab" fill="none">\n${inside}\n</g></svg>`;
const gcode = (inside: string) => `G21 G90\nM8\nM4 S800 F600\n${inside}\nM5\nM9\nM2\n`;

/** Two plates, 0.3 mm apart, and a program that cuts them. */
const plates = svg('<path d="M10 150 H60 V190 H10 Z"/>\n<path d="M60.3 150 H90 V190 H60.3 Z"/>');
const program = gcode('G0 X10 Y10\nG1 X60\nG1 Y50\nG1 X10\nG1 Y10\nG0 X60.3 Y10\nG1 X90\nG1 Y50\nG1 X60.3\nG1 Y10');

/** A line that runs through a square in so many rows and then in as many columns: it crosses itself rows × columns times. */
function woven(rows: number): string {
  const row = (i: number) => (i % 2 === 0 ? `H${20 + rows} v1` : 'H10 v1');
  const column = (i: number) => (i % 2 === 0 ? `V${10 - 5} h1` : `V${20 + rows} h1`);
  const all = Array.from({ length: rows });
  return `M10 10.5 ${all.map((_, i) => row(i)).join(' ')} H11.3 ${all.map((_, i) => column(i)).join(' ')}`;
}

/** A ring of so many corners. */
function ring(corners: number, radius: number): string {
  const points = Array.from({ length: corners }, (_, i) => {
    const angle = (2 * Math.PI * i) / corners;
    return `${(100 + radius * Math.cos(angle)).toFixed(4)} ${(100 + radius * Math.sin(angle)).toFixed(4)}`;
  });
  return `M${points.join(' L')} Z`;
}

interface Case {
  files: Files;
  /** Searches that end early with it, since they rest on it. */
  also?: readonly Search[];
  /** Piece of the reason. */
  says: string;
}

const artworkJob = (inside: string): Files => ({ 'part.job.yaml': sidecar(ARTWORK), 'part.svg': svg(inside) });
const toolpathJob = (inside: string, task?: string): Files => ({
  'part.job.yaml': sidecar(TOOLPATH, task),
  'part.gcode': gcode(inside),
});
const pair: Files = { 'part.job.yaml': sidecar(TOOLPATH + ARTWORK), 'part.gcode': program, 'part.svg': plates };

/** One case for each search: a new search does not compile without. */
const CASES: Record<Search, Case> = {
  'drawn-lines': {
    files: artworkJob(
      `<clipPath id="c"><path d="${ring(8000, 60)}"/></clipPath>\n<path clip-path="url(#c)" d="${ring(8000, 61)}"/>`,
    ),
    also: ['tasks'],
    says: 'the clip paths and masks hold so many lines that not all elements were clipped',
  },
  tasks: {
    files: toolpathJob(
      Array.from({ length: 10_001 }, (_, i) => `(part ${i})\nG0 X${i % 100} Y${i / 100}\nG1 X${(i % 100) + 0.5}`).join(
        '\n',
      ),
      ', program: { comment: part 10000 }',
    ),
    says: 'there are more than 10000 different comments and tools',
  },
  passes: {
    files: toolpathJob(
      `G0 X10 Y10\n${Array.from({ length: 300 }, (_, i) => `G1 X${i % 2 === 0 ? 60 : 10}`).join('\n')}`,
    ),
    says: 'one line is run along 300 times, and only 255 passes are followed',
  },
  placement: { files: pair, also: ['tasks'], says: GIVEN_UP },
  'missing-lines': { files: pair, says: GIVEN_UP },
  'extra-lines': { files: pair, also: ['tasks'], says: GIVEN_UP },
  duplicates: { files: artworkJob('<path d="M10 10 H60 V40 H10 Z"/>\n<path d="M10 10 H60"/>'), says: GIVEN_UP },
  crossings: { files: artworkJob(`<path d="${woven(105)}"/>`), says: 'lines cross at more than 10000 places' },
  webs: { files: artworkJob('<path d="M10 10 H60 V40 H10 Z"/>\n<path d="M60.3 10 H90 V40 H60.3 Z"/>'), says: GIVEN_UP },
  dwells: {
    files: toolpathJob(`G0 X10 Y10\n${'G4 P0.1\n'.repeat(10_001)}G4 P30\nG1 X60`),
    says: 'the head stands still more than 10000 times, and 2 of the dwells were not kept',
  },
};

const results = new Map<Search, RunResult>();

function result(search: Search): RunResult {
  const before = results.get(search);
  if (before) return before;
  Object.assign(givingUp, { search, coverages: 0 });
  const ran = run({ ...shed(), ...CASES[search].files });
  results.set(search, ran);
  return ran;
}

/** Words without what a format breaks or escapes them with. */
const plain = (text: string) => text.replaceAll('\\', '').replaceAll(/\s+/g, ' ');

describe.each(Object.keys(CASES) as Search[])('a search that ends early: %s', (search) => {
  const { says, also = [] } = CASES[search];
  const ended = [search, ...also];
  const [job] = result(search).jobs;
  const told = job!.notChecked.filter(({ kind }) => kind === 'ended-early');
  const resting = RULES.filter(({ searches }) => searches?.some((one) => ended.includes(one)));

  it('is told by every rule that rests on it, with the reason, and by no other', () => {
    expect(told.map(({ rule }) => rule)).toEqual(resting.map(({ id }) => id));
    for (const { reason } of told) expect(reason).toContain(says);
  });

  it('makes the verdict incomplete where a through or safety question hangs on it, and not else', () => {
    const decides = resting.some((rule) => rule.decides !== undefined);
    expect(job!.verdict === 'incomplete').toBe(decides);
    expect(job!.incomplete.some((reason) => reason.includes(says))).toBe(decides);
  });

  it('is shown by every format, by quiet text too', async () => {
    // What pictures are drawn from says nothing of rules.
    const reports = (Object.keys(FORMATS) as FormatName[]).filter((name) => name !== 'drawing');
    for (const name of reports) {
      const format = await FORMATS[name].load();
      for (const quiet of [false, true]) {
        expect([name, plain(reportText(format, result(search), context({ quiet })))]).toEqual([
          name,
          expect.stringContaining(says),
        ]);
      }
    }
  });
});

describe('what rules say of searches that ended early', () => {
  const messages = (search: Search, rule: string) =>
    result(search)
      .jobs[0]!.findings.filter((finding) => finding.rule === rule)
      .map(({ message }) => message);

  it.each<[Search, string, RegExp]>([
    ['duplicates', 'artwork/duplicate-line', /^At least 50\.0 mm .* \(at least 1 pair of lines\)/],
    ['crossings', 'artwork/self-crossing', /^At least 1 outline .* \(at least 10000 crossings there\)/],
    ['webs', 'artwork/web-too-thin', /^At least 1 web between/],
  ])('%s: %s counts no more than "at least"', (search, rule, says) => {
    expect(messages(search, rule)).toEqual([expect.stringMatching(says)]);
  });

  it('nothing is said to be nowhere where not everywhere was looked', () => {
    expect(messages('placement', 'match/not-found').filter((text) => text.includes('in any place'))).toEqual([]);
  });

  it('a rule that found nothing is not listed as having nothing to look at', () => {
    const [job] = result('placement').jobs;
    const kinds = job!.notChecked.filter(({ rule }) => rule === 'match/mirrored').map(({ kind }) => kind);
    expect(kinds).toEqual(['ended-early']);
  });

  it('the head standing still is judged as far as it was kept', () => {
    const [job] = result('dwells').jobs;
    expect(job!.verdict).toBe('incomplete');
  });
});

describe('rules and searches', () => {
  it('what can hurt someone and rests on a search says that the verdict hangs on it', () => {
    // Of cautions some say only that what the rule is about can burn or tip; on these hangs whether someone is warned.
    const deciding = RULES.filter(
      ({ searches, decides, caution, safety }) => searches && decides !== undefined && (caution ?? safety),
    );
    expect(deciding.map(({ id }) => id)).toEqual([
      'cut/below-clean-speed',
      'cut/marginal',
      'cut/out-of-reach',
      'cut/overburn',
      'cut/proposed',
      'cut/short-of-through',
      'cut/too-many-passes',
      'match/unclaimed-strokes',
      'toolpath/air-off',
      'toolpath/dwell-burn',
      'toolpath/heat-crowding',
    ]);
    expect(RULES.filter(({ searches, decides, safety }) => searches && safety && decides === undefined)).toEqual([]);
  });

  it('every search is rested on by a rule', () => {
    const named = new Set(RULES.flatMap(({ searches }) => searches ?? []));
    expect([...named].sort()).toEqual(Object.keys(SEARCHES).sort());
  });
});
