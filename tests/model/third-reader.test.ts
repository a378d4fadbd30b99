// A format that no file of src knows: with its folder (`line-list`) and a line in the list of readers, all of kerflint reads it.
import { describe, expect, it } from 'vitest';
import type { JobResult } from '../../src/findings/result.ts';
import { discoverJobs } from '../../src/job/files/discovery.ts';
import type { Reader } from '../../src/model/reader.ts';
import { loadReaders, preflightWhole, readersNeeded } from '../../src/preflight.ts';
import { READERS } from '../../src/readers.ts';
import { rulesFor } from '../../src/rules/index.ts';
import { rulePage } from '../../src/rules/rule-page.ts';
import { memoryAccess } from '../memory-access.ts';
import { type Files, libraryOf, shed, TODAY } from '../memory-shop.ts';
import { lineListReader } from './line-list/reader.ts';

const WITH_LINE_LISTS: readonly Reader[] = [...READERS, lineListReader];
const BARE = { machine: 'shed-60w', lens: '2in', material: 'birch-plywood', thickness: '6 mm' };
/** A plant label of 50 by 30 mm. */
const label = (settings: string) => `cut ${settings} 10,10 60,10 60,40 10,40 10,10`;
const FAST = label('80 40');
const SLOW = label('80 3');
const latin1 = (text: string) => Uint8Array.from(text, (c) => c.charCodeAt(0));

const discovered = (files: Files, readers: readonly Reader[], bare = true) =>
  discoverJobs(memoryAccess(files), readers, [''], bare);

async function judged(files: Files, readers = WITH_LINE_LISTS): Promise<JobResult> {
  const { jobs } = discovered(files, readers);
  const { result } = preflightWhole({
    jobs,
    library: libraryOf(files),
    settings: null,
    options: { today: TODAY, untrusted: false, ...BARE },
    toolVersion: '0.0.0-test',
    readers: await loadReaders(readers, readersNeeded(readers, jobs)),
  });
  return result.jobs[0]!;
}

const findingsOf = (job: JobResult, rule: string) => job.findings.filter((finding) => finding.rule === rule);

describe('a third reader', () => {
  it('has its files found, by the extension that it states', () => {
    const files = { ...shed(), 'beds/labels.lines': SLOW };
    expect(discovered(files, WITH_LINE_LISTS).jobs.paths).toEqual(['beds/labels.lines']);
    expect(discovered(files, WITH_LINE_LISTS, false).leftOut).toMatchObject([
      { path: 'beds/labels.lines', kind: 'toolpath', weighs: 'toolpath' },
    ]);
    expect(discovered(files, READERS).unmatched[0]!.text).toBe(
      '. holds no *.job.yaml, G-code (.gcode, .nc, .ngc, .tap, .cnc, .gc, .gco, .g) or .svg file',
    );
    expect(discovered(shed(), WITH_LINE_LISTS).unmatched[0]!.text).toBe(
      '. holds no *.job.yaml, G-code (.gcode, .nc, .ngc, .tap, .cnc, .gc, .gco, .g), .svg or line list (.lines) file',
    );
  });

  it('has its toolpaths judged: a cut that falls short is found, one that is slow enough parts the sheet', async () => {
    const short = await judged({ ...shed(), 'labels.lines': FAST });
    expect(short.notChecked.filter(({ kind }) => kind === 'failed')).toEqual([]);
    expect(short.toolpath).toMatchObject({ moves: 5, cutLengthMm: 160, boundsMm: { maxX: 60, maxY: 40 } });
    expect(findingsOf(short, 'cut/short-of-through')).toMatchObject([
      { severity: 'error', location: { file: 'labels.lines', line: 1 } },
    ]);
    const slow = await judged({ ...shed(), 'labels.lines': SLOW });
    expect(findingsOf(slow, 'cut/short-of-through')).toEqual([]);
    expect(slow.cuts[0]!.throughProbability).toBeGreaterThan(0.9);
  });

  it('tells what it cannot read in a code and a message of its own, at a place in its own encoding', async () => {
    const text = `# für die Möhren\n${SLOW}\nétch 20 90 1,1 2,2\nétch 20 90 1,2 2,2\n`;
    const job = await judged({ ...shed(), 'labels.lines': latin1(text) });
    const [finding, ...others] = findingsOf(job, 'input/syntax');
    expect(others).toEqual([]);
    expect(finding).toMatchObject({
      messageId: 'lineVerb',
      severity: 'error',
      message:
        'A line of a line list begins with cut and not with "étch" (2 times in this file). Write cut, or make it a remark.',
      location: { file: 'labels.lines', line: 3, column: 1 },
      related: [{ line: 4 }],
    });
    expect(finding!.excerpt!.lines).toEqual(['étch 20 90 1,1 2,2']);
    expect(job.verdict).toBe('incomplete');
  });

  it.each([
    ['# kerflint-waive cut/short-of-through: scrap', 'waived'],
    ['# für Ö: kerflint-waive cut/short-of-through: scrap', 'waived'],
    ['; kerflint-waive cut/short-of-through: scrap', 'open'],
    ['(kerflint-waive cut/short-of-through: scrap)', 'open'],
  ])('%s: a waiver counts in its own comments, and in no other’s', async (comment, status) => {
    const job = await judged({ ...shed(), 'labels.lines': latin1(`${comment}\n${FAST}\n`) });
    expect(findingsOf(job, 'cut/short-of-through').map((finding) => finding.status)).toEqual([status]);
  });

  it('says what a rule page says of readers', () => {
    const syntax = rulesFor(WITH_LINE_LISTS).find(({ id }) => id === 'input/syntax')!;
    const page = rulePage(syntax, ['G-code', 'SVG', 'line list']);
    expect(page).toContain('`lineVerb`: A line of a line list begins with cut');
    expect(page).toContain('- Toolpaths: tests/model/line-list/reader.ts');
    expect(page).toContain('in a comment of the G-code or SVG or line list:');
  });

  it('that reports what it does not state makes the rule fail and the job incomplete, not pass', async () => {
    const silent = { ...lineListReader, problems: {} };
    const job = await judged({ ...shed(), 'labels.lines': `${SLOW}\nétch` }, [...READERS, silent]);
    expect(job.notChecked.filter(({ kind }) => kind === 'failed')).toEqual([
      { rule: 'input/syntax', kind: 'failed', reason: expect.stringContaining('"unknown-verb"') },
    ]);
    expect(job.verdict).toBe('incomplete');
  });

  it('must not use the message id of another', () => {
    const again = { ...lineListReader, problems: { odd: { messageId: 'notXml', message: 'Odd.' } } };
    expect(() => rulesFor([...READERS, again])).toThrow('notXml');
  });
});

describe('a file that a sidecar names', () => {
  const named = (name: string, content: string | Uint8Array): Files => ({
    ...shed(),
    'part.job.yaml': `kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 6 mm\ntoolpath: ${name}\n`,
    [name]: content,
  });

  it.each([
    ['by its extension', 'part.lines', 'G1 X5'],
    ['by its content, where no reader has the extension', 'part.txt', `# plant labels\n${SLOW}`],
  ])('is read by the third reader %s', (_, name, content) => {
    const { jobs } = discovered(named(name, content), WITH_LINE_LISTS);
    expect(readersNeeded(WITH_LINE_LISTS, jobs)).toEqual(['line-list']);
  });

  it.each([
    ['by its extension', 'part.nc', SLOW],
    ['by its content', 'part.txt', '(plant labels)\nG21 G90\nM4 S800'],
    ['as the first of the list, where nobody recognises it', 'part.txt', 'plant labels'],
  ])('is read as G-code %s', (_, name, content) => {
    const { jobs } = discovered(named(name, content), WITH_LINE_LISTS);
    expect(readersNeeded(WITH_LINE_LISTS, jobs)).toEqual(['gcode']);
  });

  it('needs no reader of another kind to be loaded', async () => {
    const { jobs } = discovered(named('part.lines', SLOW), WITH_LINE_LISTS);
    const [job] = jobs;
    const loaded = await loadReaders(WITH_LINE_LISTS, readersNeeded(WITH_LINE_LISTS, jobs));
    expect(() => loaded.toolpathReading(job!.toolpath!)).not.toThrow();
    expect(() => loaded.artworkReading(job!.toolpath!)).toThrow('svg, which was not loaded');
  });
});
