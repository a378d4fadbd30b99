import { execFileSync, spawn } from 'node:child_process';
import { lstatSync, mkdirSync, readdirSync, readFileSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { Progress } from '../../src/cli/check/progress.ts';
import { outputSpecs, writeOutputs } from '../../src/cli/files/outputs.ts';
import { writeFile } from '../../src/cli/files/write-file.ts';
import { wantsColour } from '../../src/cli/terminal/colour.ts';
import { UsageError } from '../../src/cli/usage-error.ts';
import { job, run } from '../findings/results.ts';
import { context } from '../report/context.ts';
import { folder } from './harness.ts';

describe('a file', () => {
  it('is written whole, with its parent folders, over an older one, and leaves nothing beside it', () => {
    const cwd = folder();
    writeFile(join(cwd, 'a/b/c.json'), 'one');
    writeFile(join(cwd, 'a/b/c.json'), 'two');
    expect(readFileSync(join(cwd, 'a/b/c.json'), 'utf8')).toBe('two');
    expect(readdirSync(join(cwd, 'a/b'))).toEqual(['c.json']);
  });

  it('takes the place of a link and leaves what it points to', () => {
    const outside = folder({ secret: 'x' });
    const cwd = folder();
    symlinkSync(join(outside, 'secret'), join(cwd, 'out.json'));
    writeFile(join(cwd, 'out.json'), 'y');
    expect(readFileSync(join(outside, 'secret'), 'utf8')).toBe('x');
  });

  it('takes the place of no link where a stranger may have laid it', () => {
    const outside = folder({ secret: 'x' });
    const cwd = folder();
    symlinkSync(join(outside, 'secret'), join(cwd, 'out.json'));
    expect(() => writeFile(join(cwd, 'out.json'), 'y', 'refuse')).toThrow(/it is a link/);
    expect(readFileSync(join(outside, 'secret'), 'utf8')).toBe('x');
    expect(lstatSync(join(cwd, 'out.json')).isSymbolicLink()).toBe(true);
  });

  it('that cannot be written is a usage error that leaves nothing behind', () => {
    const cwd = folder({ file: 'x' });
    mkdirSync(join(cwd, 'sub'));
    expect(() => writeFile(join(cwd, 'sub'), 'x')).toThrow(UsageError);
    expect(() => writeFile(join(cwd, 'file/below'), 'x')).toThrow(UsageError);
    expect(readdirSync(cwd).sort()).toEqual(['file', 'sub']);
  });
});

/** Makes a node of the kind in the folder, and a link to it; null where this system or this user cannot. */
function node(cwd: string, command: string, args: string[]): string | null {
  try {
    execFileSync(command, args, { cwd, stdio: 'ignore' });
    return join(cwd, args.find((arg) => !arg.startsWith('-'))!);
  } catch {
    return null;
  }
}

// On systems without FIFOs, or for users who may make no device, these say that they did not run.
const fifos = node(folder(), 'mkfifo', ['probe']) !== null;
const devices = node(folder(), 'mknod', ['probe', 'c', '1', '3']) !== null;
if (!fifos) console.warn('Writing into a FIFO was not tried: none can be made here.');
if (!devices) console.warn('Writing into a device was not tried: only root may make one.');

describe('what is no regular file', () => {
  it.runIf(fifos).each(['itself', 'through a link'])('a FIFO is written to, and stays one (%s)', async (how) => {
    const cwd = folder();
    const fifo = node(cwd, 'mkfifo', ['pipe'])!;
    symlinkSync('pipe', join(cwd, 'link'));
    const reader = spawn('cat', [fifo]);
    let got = '';
    reader.stdout.on('data', (piece: Buffer) => {
      got += piece;
    });
    const ended = new Promise((resolve) => reader.on('close', resolve));
    writeFile(how === 'itself' ? fifo : join(cwd, 'link'), 'all of it');
    await ended;
    expect(got).toBe('all of it');
    expect(lstatSync(fifo).isFIFO()).toBe(true);
    expect(lstatSync(join(cwd, 'link')).isSymbolicLink()).toBe(true);
    expect(readdirSync(cwd).sort()).toEqual(['link', 'pipe']);
  });

  it.runIf(devices)('a device is written to, and stays one', () => {
    const cwd = folder();
    const device = node(cwd, 'mknod', ['sink', 'c', '1', '3'])!;
    writeFile(device, 'gone');
    expect(lstatSync(device).isCharacterDevice()).toBe(true);
    expect(readdirSync(cwd)).toEqual(['sink']);
  });

  it.runIf(devices)('a device that is full is a usage error', () => {
    const device = node(folder(), 'mknod', ['full', 'c', '1', '7'])!;
    expect(() => writeFile(device, 'x')).toThrow(/cannot be written \(ENOSPC\)/);
    expect(lstatSync(device).isCharacterDevice()).toBe(true);
  });
});

describe('--format', () => {
  it.each<[string[], unknown]>([
    [[], [{ format: 'text', file: null }]],
    [['json'], [{ format: 'json', file: null }]],
    [
      ['text', 'json=a=b.json'],
      [
        { format: 'text', file: null },
        { format: 'json', file: 'a=b.json' },
      ],
    ],
  ])('%j', (options, specs) => {
    expect(outputSpecs(options)).toEqual(specs);
  });

  it.each<[string[], RegExp]>([
    [['jsn'], /did you mean json\?/],
    [['toString'], /not known/],
    [['json='], /names no file/],
    [['text', 'json'], /cannot share stdout/],
    [['json=a', 'sarif=a'], /cannot share the file a/],
  ])('%j is refused', (options, message) => {
    expect(() => outputSpecs(options)).toThrow(message);
  });

  it('writes files before stdout, and colours only the screen', async () => {
    const cwd = folder();
    let screen = '';
    const stdout = {
      isTTY: true,
      columns: 60,
      write: (text: string) => {
        expect(readdirSync(join(cwd, 'out'))).toEqual(['t.txt']);
        screen += text;
      },
    };
    const { width: _, colour: __, ...rest } = context();
    await writeOutputs(run([job()]), outputSpecs(['text', 'text=out/t.txt']), {
      cwd,
      stdout,
      context: rest,
      colour: true,
      links: 'replace',
    });
    expect(screen).toContain('\u001b[');
    expect(readFileSync(join(cwd, 'out/t.txt'), 'utf8')).not.toContain('\u001b');
  });
});

describe('colour', () => {
  const terminal = { write: () => undefined, isTTY: true };
  const pipe = { write: () => undefined };
  it.each<[string, Parameters<typeof wantsColour>, boolean]>([
    ['on a terminal', ['auto', terminal, {}], true],
    ['into a pipe', ['auto', pipe, {}], false],
    ['with NO_COLOR', ['auto', terminal, { NO_COLOR: '1' }], false],
    ['with an empty NO_COLOR', ['auto', terminal, { NO_COLOR: '' }], true],
    ['on a dumb terminal', ['auto', terminal, { TERM: 'dumb' }], false],
    ['always', ['always', pipe, { NO_COLOR: '1' }], true],
    ['never', ['never', terminal, {}], false],
  ])('%s', (_, args, wanted) => {
    expect(wantsColour(...args)).toBe(wanted);
  });
});

describe('progress', () => {
  function progress(isTTY: boolean) {
    const told: string[] = [];
    let now = 0;
    const shown = new Progress({ write: (text: string) => told.push(text), isTTY, columns: 80 }, () => now);
    return {
      told,
      shown,
      read: (at: number, file: string, bytes: number) => {
        now = at;
        shown.read(file, bytes, 100e6);
      },
    };
  }

  it('is silent for half a second, then tells bytes, rate and time left', () => {
    const { told, read } = progress(false);
    read(0, 'a.gcode', 1e6);
    read(499, 'a.gcode', 10e6);
    expect(told).toEqual([]);
    read(1000, 'a.gcode', 25e6);
    expect(told).toEqual(['reading a.gcode: 25.0 of 100.0 MB, 25.0 MB/s, 3 s left\n']);
  });

  it('adds few lines to a log', () => {
    const { told, read } = progress(false);
    for (let at = 0; at <= 12_000; at += 10) read(at, 'a.gcode', at * 1000);
    expect(told).toHaveLength(3);
  });

  it('renews one line on a terminal and takes it away', () => {
    const { told, shown, read } = progress(true);
    read(0, 'a.gcode', 1e6);
    read(1000, 'a.gcode', 25e6);
    shown.clear();
    expect(told[0]).toMatch(/^\rreading a\.gcode: 25\.0/);
    expect(told[1]).toMatch(/^\r +\r$/);
    expect(told.join('')).not.toContain('\n');
  });

  it('begins anew with a second pass over the same file', () => {
    const { told, read } = progress(false);
    read(0, 'a.gcode', 50e6);
    read(400, 'a.gcode', 100e6);
    read(600, 'a.gcode', 1e6);
    read(900, 'a.gcode', 50e6);
    expect(told).toEqual([]);
  });

  it('shows a file name without letting it act', () => {
    const { told, read } = progress(false);
    read(0, '\u001b[2J::error::', 1);
    read(1000, '\u001b[2J::error::', 1e6);
    expect(told.join('')).not.toContain('\u001b');
  });
});
