import { describe, expect, it } from 'vitest';
import { type Files, factsOf, shed } from '../memory-shop.ts';

const LABEL =
  '<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="80mm" viewBox="0 0 120 80"><path fill="none" stroke="#7a5195" d="M10 10H90V34H10Z"/></svg>';
const PROGRAM = 'G21 G90\nM8\nM4 S800 F540\nG0 X10 Y10\nG1 X90\nG1 Y50\nG1 X10\nG1 Y10\nM5\nM9\nM2\n';
const TASK = 'power: 80 %, speed: 9 mm/s, air: 1 bar';

/** A plant label of 3 mm, as artwork or as a toolpath; lines of the sidecar as they stand, null leaves one out. */
function label(change: Record<string, string | null> = {}, { program = false, task = TASK } = {}): Files {
  const lines: Record<string, string | null> = {
    machine: 'shed-60w',
    lens: '2in',
    material: 'birch-plywood',
    thickness: '3.0 mm ± 0.1 mm',
    zero: 'machine',
    ...(program ? { toolpath: 'label.gcode' } : { artwork: 'label.svg' }),
    ...change,
  };
  const stated = Object.entries(lines).flatMap(([key, value]) => (value === null ? [] : `${key}: ${value}\n`));
  return {
    ...shed(),
    'label.job.yaml': `kerflint: 1\n${stated.join('')}tasks:\n  - { name: rim, aim: through, ${task} }\n`,
    ...(program ? { 'label.gcode': PROGRAM } : { 'label.svg': LABEL }),
  };
}

/** The same on the shed's machine with a piece of its profile replaced. */
function onMachine(files: Files, from: string | RegExp, to: string): Files {
  const name = 'machines/shed-60w.machine.yaml';
  return { ...files, [name]: String(files[name]).replace(from, to) };
}

describe('the facts of a job say of its lens', () => {
  const assumed = (files: Files) => {
    const { lens, lensAssumed } = factsOf(files);
    return [lens?.id ?? null, lensAssumed];
  };

  it('that it was assumed where none is named and the machine has several', () => {
    expect(assumed(label({ lens: null }))).toEqual(['2in', true]);
    expect(assumed(label({ lens: '4in' }))).toEqual(['4in', false]);
    const single = onMachine(label({ lens: null }), / {2}- \{ id: (1\.5in|4in).*\n/g, '');
    expect(assumed(single)).toEqual(['2in', false]);
  });

  it('nothing where machine or lens is not known', () => {
    expect(assumed(label({ machine: 'barn', lens: null }))).toEqual([null, false]);
    expect(assumed(label({ lens: '9in' }))).toEqual([null, false]);
  });
});

describe('the facts of a job hold its artwork', () => {
  it('against the widest kerf that is predicted, else against the spot', () => {
    const { geometry, cuts } = factsOf(label());
    expect(geometry!.kerfMm).toBe(cuts[0]!.prediction!.kerfTopMm);
    const bare = factsOf(label({ material: null }));
    expect(bare.geometry!.kerfMm).toBe(bare.beam!.spotMm);
    expect(factsOf(label({ machine: 'barn' })).geometry!.kerfMm).toBeNull();
  });

  it('to bridges as wide as the sheet is thick', () => {
    // Between this label and the next 2.5 mm are left.
    const two = LABEL.replace('Z"', 'ZM92.5 10H110V34H92.5Z"');
    const webs = (thickness: string) =>
      factsOf({ ...label({ thickness }), 'label.svg': two }).geometry!.webs.items.length;
    expect([webs('2.4 mm'), webs('2.6 mm')]).toEqual([0, 1]);
  });
});

describe('the facts of a job rest on', () => {
  it('its thickness and how sure that is', () => {
    const { thicknessMm, thicknessSpreadMm } = factsOf(label());
    expect(thicknessMm).toBe(3);
    expect(thicknessSpreadMm).toBeGreaterThan(0);
    expect(factsOf(label({ thickness: null }))).toMatchObject({ thicknessMm: null, thicknessSpreadMm: 0 });
  });

  it('how far its sheet bows', () => {
    const band = (bow: string | null) => {
      const { depthLowMm, depthHighMm } = factsOf(label({ bow })).cuts[0]!.prediction!;
      return depthHighMm - depthLowMm;
    };
    expect(band('6 mm')).toBeGreaterThan(band(null));
    expect(band('0 mm')).toBe(band(null));
  });

  it('its machine’s power, of which there is none without a machine', () => {
    expect(factsOf(label()).power).toMatchObject({ fullW: 54, basis: 'measured' });
    expect(factsOf(label({ machine: 'barn' }))).toMatchObject({ power: null, time: null, waste: null, beam: null });
  });

  it('the box of the toolpath where there is one, else of the artwork', () => {
    // A sheet of 120 by 100 mm at 12 EUR: the artwork's 80 by 24 mm are 1.92 EUR, the toolpath's 80 by 40 mm are 3.20 EUR.
    const sheet = '{ width: 120 mm, height: 100 mm, price: 12 EUR }';
    expect(factsOf(label({ sheet })).waste!.sheet).toBe(1.92);
    const program = label({ sheet }, { program: true });
    expect(factsOf(program).waste!.sheet).toBe(3.2);
    expect(factsOf({ ...program, ...label({ sheet, toolpath: 'label.gcode' }) }).waste!.sheet).toBe(3.2);
  });

  it('what the machine can do where no settings are planned, and only where no toolpath has any', () => {
    const task = 'air: 1 bar';
    expect(factsOf(label({}, { task })).proposals).toHaveLength(1);
    expect(factsOf(label()).proposals).toEqual([]);
    const program = factsOf({
      ...label({ toolpath: 'label.gcode' }, { task }),
      'label.gcode': PROGRAM,
    });
    expect(program.proposals).toEqual([]);
  });
});

describe('the facts of a job hand on', () => {
  it('what was given with it', () => {
    const remark = { text: 'a file counted only where stricter', location: factsOf(label()).input.home };
    const question = { fact: 'search', what: 'a', missing: 'b', remedy: 'c' } as const;
    const meant = { why: 'kind', word: 'plywood', choices: [] } as const;
    const given = factsOf(
      label(),
      {},
      {
        remarks: [remark],
        unanswered: [question],
        fromOptions: true,
        today: '2026-12-24',
        materialMeant: meant,
        materialName: 'ply',
      },
    );
    expect(given).toMatchObject({
      remarks: [remark],
      unanswered: [question],
      fromOptions: true,
      today: '2026-12-24',
      materialMeant: meant,
      materialName: 'ply',
      materialUnknown: false,
    });
    expect(factsOf(label())).toMatchObject({ remarks: [], unanswered: [], fromOptions: false });
    expect(factsOf(label({ material: 'unknown' })).materialUnknown).toBe(true);
  });

  it('the tighter budget of job and shop', () => {
    const eur = (amount: number) => ({ amount, currency: 'EUR' });
    const inForce = (own: string | null, shops: number | null) =>
      factsOf(label({ budget: own }), {}, { budget: shops === null ? null : eur(shops) }).budget;
    expect(inForce('4 EUR', 9)).toEqual(eur(4));
    expect(inForce('14 EUR', 9)).toEqual(eur(9));
    expect(inForce(null, 9)).toEqual(eur(9));
    expect(inForce('4 EUR', null)).toEqual(eur(4));
    expect(inForce(null, null)).toBeNull();
  });

  it('problems of its files, those before and those of reading', () => {
    const { 'label.svg': _, ...files } = label();
    const { inputProblems, artwork, unanswered } = factsOf(files);
    expect(artwork).toBeNull();
    expect(inputProblems.length).toBeGreaterThan(0);
    expect(unanswered.map(({ fact }) => fact)).toContain('file');
    const before = { ...inputProblems[0]!, file: 'shed.machine.yaml', unreadable: false };
    expect(factsOf(label(), {}, { inputProblems: [before] }).inputProblems).toEqual([before]);
  });

  it('how its motion was made, only where that is asked for', () => {
    const program = label({}, { program: true });
    expect(factsOf(program).toolpath!.journal).toBeUndefined();
    expect(factsOf(program, {}, { keepsMotion: true }).toolpath!.journal).toBeDefined();
  });

  it('how far reading has come', () => {
    const told: [string, number, number][] = [];
    const onProgress = (file: string, bytes: number, size: number) => told.push([file, bytes, size]);
    factsOf(label({}, { program: true }), {}, { onProgress });
    expect(told.at(-1)).toEqual(['label.gcode', PROGRAM.length, PROGRAM.length]);
  });
});

describe('what a job leaves open is asked of', () => {
  const open = (files: Files) => factsOf(files).unanswered.map(({ fact, missing }) => `${fact}: ${missing}`);
  const program = label({}, { program: true });

  it('its machine’s scale of power, where there is a toolpath', () => {
    const power = /\n {2}power: \{ word: S, full: 1000 \}/;
    expect(open(onMachine(program, power, ''))).toContainEqual(
      expect.stringContaining('power-scale: the toolpath was not analysed: the profile of shed-60w does not state'),
    );
    expect(open(onMachine(label(), power, ''))).toEqual([]);
  });

  it('its place, where the program moves the work by what nobody knows', () => {
    const moved = { ...program, 'label.gcode': PROGRAM.replace('M8', 'G55\nM8') };
    expect(open(moved)).toContainEqual(expect.stringMatching(/^toolpath: where the job lies is not known: /));
    expect(open(program)).toEqual([]);
  });

  it('its artwork, where something of that has no outlines', () => {
    const text = LABEL.replace('</svg>', '<text y="60">Beans</text></svg>');
    expect(open({ ...label(), 'label.svg': text })).toEqual([
      'artwork: 1 piece of live text would be cut with the task "rim" and was not judged (line 1 of label.svg)',
    ]);
  });
});
