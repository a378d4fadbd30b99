import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join, relative, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { CAUTION } from '../../src/findings/caution.ts';
import { demo, folder, REPOSITORY } from '../cli/harness.ts';
import { wordsOfMarkdown } from '../markdown-reader.ts';
import { readCommands } from '../report/runner-grammar.ts';
import { bundle, heeded, step } from './runner.ts';

let file: string;
let remove: () => void;
beforeAll(async () => {
  ({ file, remove } = await bundle());
});
afterAll(() => remove());

/** The demo as a checkout. */
function checkout(): string {
  const workspace = demo();
  mkdirSync(join(workspace, '.git'));
  return workspace;
}

describe('the action', () => {
  it('annotates, summarises, sets its outputs and fails by the exit rule', async () => {
    const done = await step(file, checkout());
    expect(done).toMatchObject({ code: 1, stderr: '' });
    expect(done.outputs).toMatchObject({ verdict: 'fail', errors: '3', 'sarif-file': '' });
    expect(done.outputs['expected-waste']).toMatch(/^\d+\.\d\d EUR$/);
    expect(Number(done.outputs['warnings'])).toBeGreaterThan(0);
    const commands = readCommands(heeded(done.log));
    expect(commands.filter((one) => one.command === 'error').map((one) => one.properties['file'])).toEqual([
      'gate-sign.gcode',
      'plant-labels.job.yaml',
      'weather-vane-hub.gcode',
    ]);
    const { headline } = done.outputs;
    expect(headline).toBe('Do not run: 3 of 4 jobs (gate-sign, plant-labels and weather-vane-hub).');
    expect(wordsOfMarkdown(done.summary)).toContain(headline);
    expect(done.log.replace(/\n/g, ' ')).toContain(headline);
    expect(done.log.replace(/\n/g, ' ')).toContain(CAUTION);
  });

  it('passes where nothing is found', async () => {
    const done = await step(file, checkout(), { paths: 'seed-tray-divider.job.yaml' });
    expect(done).toMatchObject({ code: 0, outputs: { verdict: 'pass', errors: '0' } });
    expect(done.outputs['headline']).toMatch(
      /^Found no error in what was checked: both cuts are predicted to part the sheet/,
    );
  });

  it('writes the SARIF file where asked, and names it', async () => {
    const workspace = checkout();
    const done = await step(file, workspace, { 'sarif-file': 'out/kerflint.sarif', 'json-file': 'out/kerflint.json' });
    expect(done.outputs['sarif-file']).toBe('out/kerflint.sarif');
    const log = JSON.parse(readFileSync(join(workspace, 'out/kerflint.sarif'), 'utf8'));
    expect(log.runs[0].results.length).toBe(
      JSON.parse(readFileSync(join(workspace, 'out/kerflint.json'), 'utf8')).jobs.flatMap(
        (job: { findings: unknown[] }) => job.findings,
      ).length,
    );
  });

  it('names paths from the top of the repository when the jobs lie further down', async () => {
    const workspace = folder();
    mkdirSync(join(workspace, '.git'));
    renameSync(demo(), join(workspace, 'garden'));
    const done = await step(file, workspace, { 'working-directory': 'garden', paths: 'plant-labels.job.yaml' });
    expect(readCommands(heeded(done.log))[0]?.properties['file']).toBe('garden/plant-labels.job.yaml');
  });

  it('keeps silent where it is told to', async () => {
    const done = await step(file, checkout(), { annotations: 'false', summary: 'false' });
    expect(done.summary).toBe('');
    expect(readCommands(heeded(done.log))).toEqual([]);
    expect(done.code).toBe(1);
  });

  it('runs without the command files of a runner', async () => {
    const done = await step(file, checkout(), {}, { commandFiles: false });
    expect(done).toMatchObject({ code: 1, stderr: '' });
    expect(done.log).not.toContain('::set-output');
  });

  it("links the rules' pages at the version that is used", async () => {
    const env = { GITHUB_ACTION_REPOSITORY: 'allotment/kerflint', GITHUB_ACTION_REF: 'v0.1.0' };
    const done = await step(file, checkout(), { paths: 'plant-labels.job.yaml' }, { env });
    expect(done.summary).toContain(
      '(https://github.com/allotment/kerflint/blob/v0.1.0/docs/rules/material-hazardous.md)',
    );
    expect(existsSync(join(REPOSITORY, 'docs/rules/material-hazardous.md'))).toBe(true);
  });

  it.each<[string, Record<string, string>, RegExp]>([
    ['a path that does not exist', { paths: 'gone' }, /gone does not exist/],
    ['a severity that is none', { 'fail-on': 'eror' }, /did you mean error/],
    ['a choice that is none', { annotations: 'yes' }, /annotations is "yes"/],
    ['a shard that is none', { shard: '3/2' }, /not a part of a whole/],
  ])('ends with 2 and an annotation for %s', async (_, inputs, message) => {
    const done = await step(file, checkout(), inputs);
    expect(done).toMatchObject({ code: 2, stderr: '', outputs: {} });
    expect(readCommands(done.log)).toMatchObject([{ command: 'error', data: expect.stringMatching(message) }]);
  });

  it('checks only what changed', async () => {
    const workspace = checkout();
    writeFileSync(join(workspace, 'list'), 'seed-tray-divider.svg\0');
    expect(await step(file, workspace, { 'changed-files': 'list' })).toMatchObject({
      code: 0,
      outputs: { verdict: 'pass' },
    });
  });

  it('marks what was changed and not judged, and a stranger’s settings do not make light of it', async () => {
    const workspace = checkout();
    writeFileSync(join(workspace, 'spare.svg'), '<svg xmlns="http://www.w3.org/2000/svg"/>');
    writeFileSync(join(workspace, 'list'), 'A\0spare.svg\0');
    const noted = await step(file, workspace, { 'changed-files': 'list' });
    expect(noted).toMatchObject({ code: 0, outputs: { verdict: 'pass' } });
    expect(readCommands(heeded(noted.log))).toMatchObject([
      { command: 'warning', properties: { file: 'spare.svg', title: 'kerflint: not judged' } },
    ]);
    writeFileSync(join(workspace, 'spare.tap'), 'G1 X1\n');
    writeFileSync(join(workspace, 'list'), 'A\0spare.tap\0D\0gone.svg\0');
    const unchecked = 'unchecked: { toolpath: note }\n';
    writeFileSync(join(workspace, '.kerflint.yaml'), `kerflint: 1\nmachines: [machines]\n${unchecked}`);
    const inputs = { 'changed-files': 'list' };
    expect((await step(file, workspace, inputs)).code).toBe(0);
    expect((await step(file, workspace, { ...inputs, unchecked: 'toolpath=incomplete' })).code).toBe(3);
    const stranger = await step(file, workspace, { ...inputs, untrusted: 'true' });
    expect(stranger).toMatchObject({ code: 3, outputs: { verdict: 'incomplete' } });
    expect(readCommands(heeded(stranger.log))).toMatchObject([
      { command: 'error', properties: { file: 'spare.tap' }, data: expect.stringContaining('was not judged') },
    ]);
  });

  it('fails as incomplete when the material is unknown', async () => {
    const workspace = checkout();
    const path = join(workspace, 'seed-tray-divider.job.yaml');
    writeFileSync(path, readFileSync(path, 'utf8').replace('birch-plywood', 'unknown'));
    expect(await step(file, workspace, { paths: 'seed-tray-divider.job.yaml' })).toMatchObject({
      code: 3,
      outputs: { verdict: 'incomplete' },
    });
  });
});

describe('a pull request from a fork', () => {
  const from = (repository: string | null) => ({
    name: 'pull_request',
    payload: { pull_request: { head: { repo: repository === null ? null : { full_name: repository } } } },
  });
  const PASSES = { paths: 'seed-tray-divider.job.yaml' };

  it.each<[string, Parameters<typeof step>[3]]>([
    ['of another repository', { event: from('stranger/tools') }],
    ['of a repository that is gone', { event: from(null) }],
    ['whose event cannot be read', { event: from('allotment/tools'), env: { GITHUB_EVENT_PATH: '/nowhere' } }],
    ['as a target', { event: { ...from('stranger/tools'), name: 'pull_request_target' } }],
    ['whose event names no repository at all', { event: from(null), env: { GITHUB_REPOSITORY: undefined } }],
  ])('%s is not trusted', async (_, runner) => {
    const done = await step(file, checkout(), PASSES, runner);
    expect(done.code).toBe(3);
    expect(done.log).toContain('only the shop folder and the catalogue are trusted');
  });

  it('passes with the machine of the shop folder', async () => {
    const shop = folder({
      'shed-60w.machine.yaml': readFileSync(join(REPOSITORY, 'examples/machines/shed-60w.machine.yaml'), 'utf8'),
    });
    expect((await step(file, checkout(), { ...PASSES, shop }, { event: from('stranger/tools') })).code).toBe(0);
  });

  it('is trusted from a branch of the repository itself, or when it is said so', async () => {
    expect((await step(file, checkout(), PASSES, { event: from('allotment/tools') })).code).toBe(0);
    expect(
      (await step(file, checkout(), { ...PASSES, untrusted: 'false' }, { event: from('stranger/tools') })).code,
    ).toBe(0);
    expect((await step(file, checkout(), { ...PASSES, untrusted: 'true' })).code).toBe(3);
  });
});

describe('a base', () => {
  it('makes the step tell what has changed, and fail only for what is new', async () => {
    const before = checkout();
    await step(file, before, { 'json-file': 'base.json' });
    const workspace = folder();
    renameSync(before, join(workspace, 'before'));
    renameSync(checkout(), join(workspace, 'designs'));
    const inputs = { 'working-directory': 'designs', against: '../before/base.json', 'fail-on-new': 'true' };
    const same = await step(file, workspace, inputs);
    expect(same).toMatchObject({ code: 0, stderr: '', outputs: { verdict: 'fail' } });
    expect(same.log).toContain('Against the base: nothing has changed.');
    expect(wordsOfMarkdown(same.summary)).toContain('Against the base: nothing has changed.');
    const path = join(workspace, 'designs/seed-tray-divider.gcode');
    writeFileSync(path, readFileSync(path, 'utf8').replace(/F\d+/g, 'F9000'));
    const spoilt = await step(file, workspace, inputs);
    expect(spoilt.code).toBe(1);
    const errors = readCommands(heeded(spoilt.log)).filter(({ command }) => command === 'error');
    expect(errors[0]!.properties).toMatchObject({
      file: 'seed-tray-divider.gcode',
      title: 'kerflint cut/short-of-through (new)',
    });
    const stranger = await step(file, workspace, { ...inputs, untrusted: 'true' });
    expect(stranger).toMatchObject({ code: 2, log: expect.stringContaining('does not lie inside --shop') });
  });
});

// Which events there are and what they carry: docs.github.com, "Events that trigger workflows" (from memory).
describe('an event of which anybody’s commit may be checked out', () => {
  const own = { full_name: 'allotment/tools' };
  const EVENTS: [string, unknown][] = [
    ['issue_comment', { issue: { pull_request: {} }, repository: own }],
    ['pull_request_review', { pull_request: { head: { repo: own } } }],
    ['pull_request_review_comment', { pull_request: { head: { repo: own } } }],
    ['commit_comment', { repository: own }],
    ['discussion_comment', { repository: own }],
    ['workflow_dispatch', { ref: 'refs/heads/main', repository: own }],
    ['repository_dispatch', { branch: 'main', repository: own }],
    ['check_run', { check_run: { pull_requests: [] }, repository: own }],
    ['check_suite', { check_suite: { pull_requests: [] }, repository: own }],
    ['status', { repository: own }],
    ['workflow_run', { workflow_run: { head_repository: own } }],
    ['workflow_call', { repository: own }],
    ['merge_group', { repository: own }],
    ['', {}],
  ];

  it.each(EVENTS)('is not trusted: %s', async (name, payload) => {
    const done = await step(file, checkout(), { paths: 'seed-tray-divider.job.yaml' }, { event: { name, payload } });
    expect(done.code).toBe(3);
    expect(done.log).toContain('only the shop folder and the catalogue are trusted');
  });

  it.each(['push', 'schedule'])('is none of those that the repository sets off itself: %s', async (name) => {
    const event = { name, payload: { repository: own } };
    expect((await step(file, checkout(), { paths: 'seed-tray-divider.job.yaml' }, { event })).code).toBe(0);
  });
});

describe('the workspace', () => {
  const outside = () => folder({ 'seed-tray-divider.svg': '<svg xmlns="http://www.w3.org/2000/svg"/>' });
  /** Ways out, with what an input says; the third is laid by a link that a checkout may bring. */
  const WAYS: [string, (workspace: string) => string][] = [
    ['by ..', (workspace) => relative(workspace, outside())],
    ['by an absolute path', () => outside()],
    [
      'by a link',
      (workspace) => {
        symlinkSync(outside(), join(workspace, 'linked'));
        return 'linked';
      },
    ],
  ];

  for (const input of ['paths', 'working-directory']) {
    it.each(WAYS)(`is not left by ${input} %s`, async (_, way) => {
      const workspace = checkout();
      const done = await step(file, workspace, { [input]: way(workspace) });
      expect(done).toMatchObject({ code: 2, stderr: '', outputs: {} });
      expect(done.log).toMatch(
        new RegExp(`^::error title=kerflint: usage::the input ${input} .* leads out of the workspace`),
      );
    });
  }

  for (const input of ['sarif-file', 'json-file']) {
    it.each(WAYS)(`is not left by ${input} %s`, async (_, way) => {
      const workspace = checkout();
      const there = way(workspace);
      const before = readdirSync(resolve(workspace, there));
      const done = await step(file, workspace, { [input]: join(there, 'out.file') });
      expect(done).toMatchObject({ code: 2, stderr: '', outputs: {} });
      expect(done.log).toContain(`the input ${input} `);
      expect(readdirSync(resolve(workspace, there))).toEqual(before);
    });
  }

  it('is not left by a link in the place of the very file', async () => {
    const workspace = checkout();
    const kept = join(folder({ kept: 'mine' }), 'kept');
    symlinkSync(kept, join(workspace, 'kerflint.sarif'));
    expect((await step(file, workspace, { 'sarif-file': 'kerflint.sarif' })).code).toBe(2);
    expect(readFileSync(kept, 'utf8')).toBe('mine');
    expect((await step(file, workspace, { 'sarif-file': '/dev/null' })).code).toBe(2);
  });

  it('may be reached by a link itself, and links within it are followed', async () => {
    const workspace = checkout();
    const linked = join(folder(), 'workspace');
    symlinkSync(workspace, linked);
    mkdirSync(join(workspace, 'out'));
    symlinkSync('out', join(workspace, 'reports'));
    const done = await step(file, linked, {
      'sarif-file': 'reports/kerflint.sarif',
      paths: 'seed-tray-divider.job.yaml',
    });
    expect(done).toMatchObject({ code: 0, outputs: { 'sarif-file': 'out/kerflint.sarif' } });
    expect(readdirSync(join(workspace, 'out'))).toEqual(['kerflint.sarif']);
  });

  it('holds the root of the run: a repository around it is not read', async () => {
    const around = folder({ '.git/HEAD': 'x', 'secret.gcode': 'G1 X1\n' });
    const workspace = join(around, 'workspace');
    renameSync(demo(), workspace);
    const sidecar = join(workspace, 'seed-tray-divider.job.yaml');
    writeFileSync(sidecar, readFileSync(sidecar, 'utf8').replace('seed-tray-divider.gcode', '../secret.gcode'));
    const done = await step(file, workspace, { paths: 'seed-tray-divider.job.yaml' });
    expect(done.log).toContain('leads outside the root');
  });

  it('that is not there is named', async () => {
    const done = await step(file, folder(), {}, { env: { GITHUB_WORKSPACE: '/nowhere/at/all' } });
    expect(done).toMatchObject({ code: 2, stderr: '' });
    expect(done.log).toContain('the workspace /nowhere/at/all is not there');
  });
});

describe('a file of the runner that cannot be written', () => {
  it.each(['GITHUB_OUTPUT', 'GITHUB_STEP_SUMMARY'])(
    'ends the step with 2, before anything is judged: %s',
    async (name) => {
      for (const [path, code] of [
        ['/nowhere/at/all', 'ENOENT'],
        [folder(), 'EISDIR'],
      ] as const) {
        const done = await step(file, checkout(), {}, { env: { [name]: path } });
        expect(done).toMatchObject({ code: 2, stderr: '' });
        expect(readCommands(done.log)).toMatchObject([
          { command: 'error', properties: { title: 'kerflint: usage' }, data: expect.stringContaining(name) },
        ]);
        expect(done.log).toContain(`(${path}) cannot be written (${code})`);
      }
    },
  );
});

describe('hostile text', () => {
  it('in names, comments and drawings gives the runner no command', async () => {
    const workspace = checkout();
    const evil = '::error::injected';
    const name = '##[add-mask]x ::warning::y, z.gcode';
    renameSync(join(workspace, 'seed-tray-divider.gcode'), join(workspace, name));
    writeFileSync(
      join(workspace, name),
      `(${evil})\n(##[error]injected)\nG1 X5 ${evil} %0A::error::injected\n\u001b[2J\n::set-output name=verdict::pass\n`,
    );
    const sidecar = join(workspace, 'seed-tray-divider.job.yaml');
    writeFileSync(sidecar, readFileSync(sidecar, 'utf8').replace('seed-tray-divider.gcode', JSON.stringify(name)));
    rmSync(join(workspace, 'seed-tray-divider.svg'));
    writeFileSync(
      join(workspace, 'seed-tray-divider.svg'),
      `<svg xmlns="http://www.w3.org/2000/svg"><title>\n::error::injected\n</title><text>##[error]x</text></svg>`,
    );
    const done = await step(file, workspace, PATH);
    expect(done.code).not.toBe(0);
    for (const one of readCommands(heeded(done.log))) {
      expect(one.properties['title']).toMatch(/^kerflint/);
      expect(['error', 'warning', 'notice']).toContain(one.command);
    }
    expect(done.log).not.toMatch(/##\[|[^\n\P{Cc}]/u);
    expect(done.outputs['verdict']).not.toBe('pass');
  });
  const PATH = { paths: 'seed-tray-divider.job.yaml' };
});

describe('action.yml', () => {
  const declared = parse(readFileSync(join(REPOSITORY, 'action.yml'), 'utf8'));

  it('runs the bundle on a runtime that runners have', () => {
    expect(declared.runs).toEqual({ using: 'node24', main: 'dist/action.mjs' });
  });

  it('declares the outputs that are set', async () => {
    const done = await step(file, checkout(), { paths: 'plant-labels.job.yaml' });
    expect(Object.keys(done.outputs).sort()).toEqual(Object.keys(declared.outputs).sort());
  });

  it('declares the inputs that are read', () => {
    const read = [
      ...readFileSync(join(REPOSITORY, 'action/inputs.ts'), 'utf8').matchAll(/(?:text|choice|getInput)\('([a-z-]+)'/g),
    ].map((match) => match[1]);
    const bare = ['machine', 'lens', 'material', 'thickness'];
    expect([...new Set([...read, ...bare])].sort()).toEqual(Object.keys(declared.inputs).sort());
  });
});
