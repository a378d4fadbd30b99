// What is read of a job's files, with what of the machine, and what comes of files that cannot be read.
import { describe, expect, it } from 'vitest';
import { loadReaders, readableFiles, readersNeeded } from '../../../src/facts/input/loaded-readers.ts';
import { readFiles } from '../../../src/facts/input/read-files.ts';
import { artworkOptionsOf, toolpathOptionsOf } from '../../../src/facts/input/reader-options.ts';
import type { Machine } from '../../../src/job/model.ts';
import { READERS } from '../../../src/readers.ts';
import { type Source, SourceUnreadable, textSource } from '../../../src/source/source.ts';
import { workFor } from '../../../src/units/work.ts';
import { factsOf, readers, shed } from '../../memory-shop.ts';
import { OUTLINE } from '../outline.ts';

const SHED = factsOf({
  ...shed(),
  'part.job.yaml': 'kerflint: 1\nmachine: shed-60w\nartwork: part.svg\n',
  'part.svg': OUTLINE,
}).machine!;
const toolpath = textSource('part.gcode', 'G21 G90\nM3 S600 F720\nG1 X10\nM5\nM2\n');
const artwork = textSource('part.svg', OUTLINE);
const work = workFor(1000);
const read = (more: Partial<Parameters<typeof readFiles>[0]> = {}) =>
  readFiles({ machine: SHED, spotMm: 0.15, toolpath, artwork, readers, work, ...more });
const withPower = (power: Machine['controller']['power']): Machine => ({
  ...SHED,
  controller: { ...SHED.controller, power },
});
const failing = (name: string, error: Error): Source => ({
  name,
  size: 1,
  chunks: () => {
    throw error;
  },
});

describe('the files of a job', () => {
  it('are read where they are there', () => {
    const { toolpath: program, artwork: drawing, colourOf, unreadable, highestUnscaled } = read();
    expect([program!.strokes.count, drawing!.outlines.length]).toEqual([1, 1]);
    expect([colourOf('#9C36B5'), colourOf('no colour')]).toEqual(['#9c36b5', null]);
    expect([unreadable, highestUnscaled]).toEqual([[], null]);
    expect(read({ toolpath: null, artwork: null })).toMatchObject({ toolpath: null, artwork: null, unreadable: [] });
    expect(read({ artwork: null }).colourOf('red')).toBeNull();
  });

  it('are read with their motion where that is asked for', () => {
    expect(read().toolpath!.journal).toBeUndefined();
    expect(read({ keepsMotion: true }).toolpath!.journal).toBeDefined();
  });

  it('tell how far they are read', () => {
    const told: [string, number, number][] = [];
    read({ onProgress: (...progress) => told.push(progress) });
    expect(told.length).toBeGreaterThan(0);
    for (const [file, bytes, size] of told) {
      expect([file, size]).toEqual(['part.gcode', toolpath.size]);
      expect(bytes).toBeLessThanOrEqual(size);
    }
  });

  it('are the artwork alone where the machine is not known', () => {
    expect(read({ machine: null })).toMatchObject({
      toolpath: null,
      highestUnscaled: null,
      artwork: expect.anything(),
    });
  });

  it('are the artwork alone where its power scale is not known, and how high the program goes is kept', () => {
    const open = read({ machine: withPower(null) });
    expect(open).toMatchObject({ toolpath: null, highestUnscaled: 600, artwork: expect.anything() });
    expect(read({ machine: withPower(null), toolpath: null }).highestUnscaled).toBeNull();
    const dark = textSource('part.gcode', 'G21 G90\nG1 X10 F600\nM2\n');
    expect(read({ machine: withPower(null), toolpath: dark }).highestUnscaled).toBeNull();
  });

  it('are told where their bytes cannot be had, each for itself', () => {
    const gone = new SourceUnreadable('there is no such file');
    const problem = (file: string) => ({
      file,
      severity: 'error',
      unreadable: true,
      problem: {
        code: 'unreadable',
        place: { line: 1, column: 1, endLine: 1, endColumn: 1 },
        args: { reason: 'there is no such file' },
      },
    });
    const neither = read({ toolpath: failing('part.gcode', gone), artwork: failing('part.svg', gone) });
    expect(neither).toMatchObject({ toolpath: null, artwork: null });
    expect(neither.unreadable).toEqual([problem('part.gcode'), problem('part.svg')]);
    expect(read({ artwork: failing('part.svg', gone) })).toMatchObject({ artwork: null, toolpath: expect.anything() });
  });

  it('hide no other fault', () => {
    expect(() => read({ toolpath: failing('part.gcode', new RangeError('a fault')) })).toThrow('a fault');
  });
});

describe('the readers that jobs need', () => {
  const both = { toolpath, artwork };
  const ids = READERS.map(({ id }) => id);

  it('are one for each kind of file, named once', () => {
    expect(readableFiles(READERS, both).map(({ source, reader }) => [source.name, reader.makes])).toEqual([
      ['part.gcode', 'toolpath'],
      ['part.svg', 'artwork'],
    ]);
    expect(readableFiles(READERS, { toolpath: null, artwork: null })).toEqual([]);
    expect(readersNeeded(READERS, [both, both]).sort()).toEqual([...ids].sort());
    expect(readersNeeded(READERS, [{ toolpath: null, artwork }])).toEqual(
      READERS.filter(({ makes }) => makes === 'artwork').map(({ id }) => id),
    );
  });

  it('are loaded alone, and it is a fault to ask for another', async () => {
    const loaded = await loadReaders(READERS, readersNeeded(READERS, [{ toolpath, artwork: null }]));
    expect(loaded.all).toBe(READERS);
    expect(() => loaded.toolpathReading(toolpath)).not.toThrow();
    const [drawing] = READERS.filter(({ makes }) => makes === 'artwork');
    expect(() => loaded.artworkReading(artwork)).toThrow(
      `there is a file for the reader ${drawing!.id}, which was not loaded`,
    );
  });
});

describe('what readers are told of the machine', () => {
  it('is how its controller and its head move', () => {
    const odd: Machine = {
      ...SHED,
      motion: { ...SHED.motion, speedMmPerS: 400, rapidMmPerS: 450, accelerationMmPerS2: 2500, airDelayS: 0.7 },
      controller: { ...SHED.controller, harmless: new Map([['M42', 'lights a lamp']]), blockDelete: 'skipped' },
    };
    const power = { ...SHED.controller.power!, full: 255 };
    expect(toolpathOptionsOf(odd, power, 0.2)).toEqual({
      power,
      m4: 'scaled-with-speed',
      arcToleranceMm: 0.05,
      rapidMmPerS: 450,
      speedMmPerS: 400,
      accelerationMmPerS2: 2500,
      cornerDeviationMm: 0.02,
      airDelayS: 0.7,
      harmless: new Set(['M42']),
      blockDelete: 'skipped',
      spotMm: 0.2,
    });
  });

  it('is an ordinary spot where no lens is known', () => {
    expect(toolpathOptionsOf(SHED, SHED.controller.power!, null).spotMm).toBe(0.15);
  });

  it('is for artwork how large a pixel is, 1/96 in where no profile says otherwise', () => {
    const fine = { ...SHED, artwork: { pxPerInch: 72, stated: true } };
    const most = { maxPoints: work.outlinePoints, maxRepeated: work.repeatedElements };
    expect(artworkOptionsOf(fine, work)).toEqual({ pxPerInch: 72, ...most });
    expect(artworkOptionsOf(null, work)).toEqual({ pxPerInch: 96, ...most });
  });
});
