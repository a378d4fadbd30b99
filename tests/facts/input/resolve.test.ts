// The machine and the material of a job, by the rules of trust, and what is said where they are not to be had.
import { describe, expect, it } from 'vitest';
import { type BareOptions, resolveJob } from '../../../src/facts/input/resolve.ts';
import { discoverJobs } from '../../../src/job/files/discovery.ts';
import type { FoundJob } from '../../../src/job/files/job-opener.ts';
import { createLibrary } from '../../../src/job/files/library.ts';
import { collectShop } from '../../../src/job/files/shop.ts';
import { READERS } from '../../../src/readers.ts';
import { memoryAccess } from '../../memory-access.ts';
import { catalogueSources, type Files, shed } from '../../memory-shop.ts';
import { OUTLINE } from '../outline.ts';

const CATALOGUE = catalogueSources();
const SHED = String(shed()['machines/shed-60w.machine.yaml']);
const DEN = SHED.replace('id: shed-60w', 'id: den-40w');
/** A material that stands beside the job alone. */
const MOSS = String(
  new TextDecoder().decode(
    Uint8Array.from(
      [...CATALOGUE.find(({ name }) => name.endsWith('/cork.material.yaml'))!.chunks()].flatMap((one) => [...one]),
    ),
  ),
)
  .replace('id: cork', 'id: moss-board')
  .replace(/name: .*/, 'name: moss board')
  .replace(/aliases: .*/, 'aliases: [pressed moss]')
  .replace(/other-languages:\n(?: {2}.*\n)+/, '');
const sidecar = (named: string) => `kerflint: 1\n${named}artwork: part.svg\n`;
const STATED = 'machine: shed-60w\nmaterial: birch-plywood\nthickness: 3 mm ± 0.1 mm\n';

interface Around {
  shop?: Files;
  options?: BareOptions;
  change?: (job: FoundJob) => FoundJob;
}

function resolved(files: Files, { shop = shed(), options = { untrusted: false }, change = (job) => job }: Around = {}) {
  const [job] = discoverJobs(memoryAccess(files), READERS, [''], !('part.job.yaml' in files)).jobs;
  const sources = collectShop(memoryAccess(shop), true).sources;
  const library = createLibrary({ catalogue: CATALOGUE, shop: sources, untrusted: options.untrusted });
  return resolveJob(change(job!), library, options);
}
const job = (named: string, more: Files = {}): Files => ({
  'part.job.yaml': sidecar(named),
  'part.svg': OUTLINE,
  ...more,
});

describe('a job with all that it needs', () => {
  it('has machine, material and sheet as its sidecar names them, and where each file is', () => {
    const found = resolved(job(`${STATED}lens: 4in\n`));
    expect(found).toMatchObject({
      machine: { id: 'shed-60w' },
      material: { id: 'birch-plywood' },
      materialName: 'birch-plywood',
      materialUnknown: false,
      materialMeant: null,
      lens: '4in',
      thickness: { mm: 3, plusMinusMm: 0.1 },
      toolpath: null,
      artwork: { name: 'part.svg' },
      fromOptions: false,
      inputProblems: [],
      unanswered: [],
    });
    expect(found.job).toEqual({
      name: 'part',
      sidecar: expect.objectContaining({ machine: 'shed-60w' }),
      files: { sidecar: 'part.job.yaml', toolpath: null, artwork: 'part.svg' },
      home: { file: 'part.job.yaml', line: 1, column: 1, endLine: 1, endColumn: 1 },
    });
  });

  it('has them from the command line where it is a bare file, and from there alone', () => {
    const bare = { untrusted: false, machine: 'shed-60w', lens: '2in', material: 'mdf', thickness: '4 mm ± 0.2 mm' };
    expect(resolved({ 'part.svg': OUTLINE }, { options: bare })).toMatchObject({
      machine: { id: 'shed-60w' },
      material: { id: 'mdf' },
      lens: '2in',
      thickness: { mm: 4, plusMinusMm: 0.2 },
      fromOptions: true,
      job: { sidecar: null, files: { sidecar: null, artwork: 'part.svg' }, home: { file: 'part.svg', line: 1 } },
    });
    expect(resolved({ 'part.svg': OUTLINE }, { options: { ...bare, thickness: 'thick' } }).thickness).toBeNull();
    expect(resolved(job(STATED), { options: bare })).toMatchObject({
      material: { id: 'birch-plywood' },
      lens: null,
      thickness: { mm: 3 },
    });
  });

  it('has its home in the program where it has no sidecar, before its artwork', () => {
    const files = { 'part.gcode': 'G21 G90\nM2\n' };
    expect(resolved(files, { options: { untrusted: false, machine: 'shed-60w' } }).job).toMatchObject({
      files: { toolpath: 'part.gcode', artwork: null },
      home: { file: 'part.gcode' },
    });
    const nothing = resolved(files, { change: (found) => ({ ...found, toolpath: null }) });
    expect(nothing.job.home.file).toBe(nothing.job.name);
  });
});

describe('a machine', () => {
  const questions = (...asked: Parameters<typeof resolved>) =>
    resolved(...asked).unanswered.filter(({ fact }) => fact === 'machine');

  it('that nobody knows is told at its line, and leaves open what it does', () => {
    const found = resolved(job(STATED.replace('shed-60w', 'attic-laser')));
    expect(found.machine).toBeNull();
    expect(found.inputProblems).toMatchObject([
      {
        file: 'part.job.yaml',
        severity: 'error',
        unreadable: false,
        problem: { code: 'unknown-id', place: { file: 'part.job.yaml', line: 2 } },
      },
    ]);
    expect(found.unanswered).toEqual([
      {
        fact: 'machine',
        what: 'what the machine does, and whether the sheet parts',
        missing: 'the machine is not known here',
        remedy: 'Name a machine that has a profile, or write one: `kerflint init --machine <id>`.',
      },
    ]);
  });

  it('that nobody knows leaves a program unread', () => {
    const files = { 'part.gcode': 'G21 G90\nM2\n' };
    const options = { untrusted: false, machine: 'attic-laser', material: 'mdf', thickness: '3 mm' };
    const { unanswered, inputProblems } = resolved(files, { options });
    expect(unanswered.map(({ missing }) => missing)).toContain(
      'the toolpath was not analysed: the machine is not known',
    );
    // What the command line says stands in no file: the home of the job is where it is told.
    expect(inputProblems[0]!.problem.place).toMatchObject({ file: 'part.gcode', line: 1 });
  });

  it('that stands beside the job alone is used and asked for, where what is beside a job is not trusted', () => {
    const beside = job(STATED.replace('shed-60w', 'den-40w'), { 'den-40w.machine.yaml': DEN });
    expect(questions(beside)).toEqual([]);
    const untrusted = { options: { untrusted: true } };
    expect(resolved(beside, untrusted)).toMatchObject({ machine: { id: 'den-40w' }, inputProblems: [] });
    expect(questions(beside, untrusted)).toEqual([
      {
        fact: 'machine',
        what: 'whether the sheet parts',
        missing: "the machine den-40w is not one of the shop's",
        remedy: 'Name a machine of the shop, or put its profile into the shop’s folder (`--shop`).',
      },
    ]);
    expect(questions(job(STATED), untrusted)).toEqual([]);
  });

  it('that is described wrongly has its problems told, and no other', () => {
    const wrong = job(STATED.replace('shed-60w', 'den-40w'), {
      'den-40w.machine.yaml': DEN.replace('kind: co2', 'kind: steam'),
    });
    const { machine, inputProblems } = resolved(wrong);
    expect(machine).toBeNull();
    expect(inputProblems.length).toBeGreaterThan(0);
    expect(inputProblems.map(({ problem }) => problem.code)).not.toContain('unknown-id');
    expect(inputProblems[0]!.file).toBe('den-40w.machine.yaml');
  });
});

describe('a material', () => {
  const questions = (...asked: Parameters<typeof resolved>) =>
    resolved(...asked).unanswered.filter(({ fact }) => fact === 'material');
  const moss = STATED.replace('birch-plywood', 'moss-board');

  it('that nobody knows is told with what may have been meant', () => {
    const { material, materialName, materialMeant, inputProblems } = resolved(job(STATED.replace('birch', 'birhc')));
    expect([material, materialName]).toEqual([null, 'birhc-plywood']);
    expect(materialMeant).not.toBeNull();
    expect(inputProblems.map(({ problem }) => problem.args['text'])).toEqual([
      expect.stringMatching(
        /^there is no material "birhc-plywood" in the shop or the catalogue\. .*birch-plywood.* Name one, or describe it in a \*\.material\.yaml\.$/,
      ),
    ]);
    expect(inputProblems[0]!.problem.place).toMatchObject({ file: 'part.job.yaml', line: 3 });
  });

  it('that is like no other is told without a guess', () => {
    const [only] = resolved(job(STATED.replace('birch-plywood', 'qqqqqqqq'))).inputProblems;
    expect(only!.problem.args['text']).toBe(
      'there is no material "qqqqqqqq" in the shop or the catalogue. Name one, or describe it in a *.material.yaml.',
    );
  });

  it.each(['unknown', 'Unknown', 'UNKNOWN'])('may be stated as not known: %s', (word) => {
    expect(resolved(job(STATED.replace('birch-plywood', word)))).toMatchObject({
      material: null,
      materialUnknown: true,
      materialMeant: null,
      inputProblems: [],
    });
  });

  it('that stands beside the job alone is used and asked for, where what is beside a job is not trusted', () => {
    const beside = job(moss, { 'moss-board.material.yaml': MOSS });
    const untrusted = { options: { untrusted: true } };
    expect(resolved(beside, untrusted)).toMatchObject({ material: { id: 'moss-board' }, inputProblems: [] });
    expect(questions(beside, untrusted)).toEqual([
      {
        fact: 'material',
        what: 'what the sheet gives off, and whether the sheet parts',
        missing: 'the material moss-board is described only beside the job',
        remedy: 'Name a material of the catalogue, or put its *.material.yaml into the shop’s folder (`--shop`).',
      },
    ]);
    expect(questions(beside)).toEqual([]);
    expect(questions(job(moss), { options: { untrusted: true } })).toEqual([]);
  });

  it('that is described wrongly has its problems told, and no other', () => {
    const { inputProblems } = resolved(
      job(moss, { 'moss-board.material.yaml': MOSS.replace(/density: .*/, 'density: heavy') }),
    );
    expect(inputProblems[0]).toMatchObject({ file: 'moss-board.material.yaml', severity: 'error', unreadable: false });
    expect(inputProblems.map(({ problem }) => problem.code)).not.toContain('unknown-id');
  });
});

describe('what is wrong with the files of a job', () => {
  it('is told first, and which of them could not be read', () => {
    const place = { file: 'part.svg', line: 1, column: 1, endLine: 1, endColumn: 1 };
    const problems = (['unreadable', 'outside-root', 'wrong-value'] as const).map((code) => ({
      code,
      place,
      args: { text: 'it cannot be had' },
    }));
    const { inputProblems } = resolved(job(STATED.replace('shed-60w', 'attic-laser')), {
      change: (found) => ({ ...found, problems }),
    });
    expect(
      inputProblems.map(({ file, problem, severity, unreadable }) => [file, problem.code, severity, unreadable]),
    ).toEqual([
      ['part.svg', 'unreadable', 'error', true],
      ['part.svg', 'outside-root', 'error', true],
      ['part.svg', 'wrong-value', 'error', false],
      ['part.job.yaml', 'unknown-id', 'error', false],
    ]);
  });
});
