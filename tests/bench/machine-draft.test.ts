import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { machineDraft } from '../../src/bench/machine/machine-draft.ts';
import { type MachineFacts, readMachineFacts } from '../../src/bench/machine/machine-facts.ts';
import { settingsDraft } from '../../src/bench/machine/shop-draft.ts';
import { readMachine } from '../../src/job/machine/machine.ts';
import { readSettings } from '../../src/job/settings/settings.ts';
import { textSource } from '../../src/source/source.ts';

const TYPED = { machine: 'bench-40w', source: 'co2', rated: '40 W', lens: ['2 in'], bed: '500 x 300 mm' };

const factsOf = (typed: Parameters<typeof readMachineFacts>[0]): MachineFacts => {
  const read = readMachineFacts(typed);
  expect(read.wrong).toBeNull();
  return read.facts!;
};

const read = (facts: MachineFacts, draft: string) => {
  const { value, problems } = readMachine(textSource(`${facts.id}.machine.yaml`, draft), 'shop');
  expect(problems).toEqual([]);
  return value!;
};

/** As somebody would who states every default: the "#" before each key goes; lines that nobody can fill in stay. */
const uncommented = (draft: string) =>
  draft
    .split('\n')
    .map((line) => (line.includes('…') ? line : line.replace(/^( *)# ( *[a-z0-9-]+:(?: |$))/, '$1$2')))
    .join('\n');

describe('what people know of a machine', () => {
  it.each([
    ['spellings of the kind', { source: 'CO₂' }, { kind: 'co2' }],
    ['the other spelling of fibre', { source: 'Fiber' }, { kind: 'fibre' }],
    ['kilowatts', { rated: '0.1 kW' }, { rated: { text: '100 W', watts: 100 } }],
    ['inches', { bed: '20 x 12 in' }, { bed: { x: '20 in', y: '12 in' } }],
    ['a power word written together', { powerWord: 's1000' }, { powerWord: { word: 'S', full: 1000 } }],
    ['another power word', { powerWord: 'M106 255' }, { powerWord: { word: 'M106', full: 255 } }],
    ['analogue power', { powerWord: 'analog = 5.0' }, { powerWord: { word: 'analog', full: 5 } }],
  ])('takes %s', (_, typed, facts) => {
    expect(factsOf({ ...TYPED, ...typed })).toMatchObject(facts);
  });

  it('calls lenses by their focal length, as a profile without ids does', () => {
    const { lenses } = factsOf({ ...TYPED, lens: ['2 in', '38.1 mm', '63 mm'] });
    expect(lenses.map(({ id, focal }) => [id, focal])).toEqual([
      ['2in', '2 in'],
      ['1.5in', '38.1 mm'],
      ['63mm', '63 mm'],
    ]);
  });

  it('lists all that is missing', () => {
    expect(readMachineFacts({}).missing).toEqual(['machine', 'source', 'rated', 'lens', 'bed']);
    expect(readMachineFacts({ ...TYPED, lens: [] }).missing).toEqual(['lens']);
  });

  it('lists all that is wrong', () => {
    const { wrong } = readMachineFacts({
      machine: 'my laser',
      source: 'dioed',
      rated: '40',
      lens: ['2', '50.8 mm', '2 in'],
      bed: '500 x 300',
      powerWord: 'M1061000',
    });
    expect(wrong?.map(({ problem }) => problem)).toEqual([
      expect.stringMatching(/"my laser" is not an id/),
      expect.stringMatching(/did you mean diode\?/),
      '"40" has no unit: did you mean 40 W?',
      '"2" has no unit: did you mean 2 mm?',
      expect.stringMatching(/did you mean 500 x 300 mm\?/),
      expect.stringMatching(/no word with its value at full power/),
      'the lens of 2 in is named twice',
    ]);
  });

  it.each([
    ['rated', '-40 W'],
    ['rated', '0 W'],
    ['bed', '0 x 300 mm'],
    ['powerWord', 'S 0'],
    ['powerWord', 'S'],
    ['powerWord', 'F 1000'],
  ])('takes no --%s of %s', (name, typed) => {
    expect(readMachineFacts({ ...TYPED, [name]: typed }).wrong).toHaveLength(1);
  });
});

describe('a drafted profile', () => {
  const typedMachine = fc.record({
    machine: fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/),
    source: fc.constantFrom('co2', 'diode', 'fibre'),
    rated: fc.double({ min: 0.5, max: 5000, noNaN: true }).map((watts) => `${watts.toFixed(1)} W`),
    lens: fc
      .uniqueArray(fc.integer({ min: 4, max: 1200 }), { minLength: 1, maxLength: 4 })
      .chain((quarters) => fc.boolean().map((inches) => quarters.map((q) => (inches ? `${q / 4} in` : `${q / 4} mm`)))),
    bed: fc
      .tuple(fc.integer({ min: 1, max: 4000 }), fc.integer({ min: 1, max: 4000 }))
      .map(([x, y]) => `${x} x ${y} mm`),
    powerWord: fc.constantFrom('S 1000', 'S 255', 'M106 255', 'analog 10'),
  });

  it('reads back as the facts, whatever they are', () => {
    fc.assert(
      fc.property(typedMachine, fc.boolean(), ({ powerWord, ...typed }, scaled) => {
        const facts = factsOf(scaled ? { ...typed, powerWord } : typed);
        const machine = read(facts, machineDraft(facts, null));
        expect(machine.id).toBe(typed.machine);
        expect(machine.source.kind).toBe(typed.source);
        expect(machine.source.ratedW).toBeCloseTo(Number.parseFloat(typed.rated), 2);
        const [x, , y] = typed.bed.split(' ').map(Number);
        expect([machine.travel.xMm, machine.travel.yMm]).toEqual([x, y]);
        for (const [i, lens] of typed.lens.entries()) {
          const mm = Number.parseFloat(lens) * (lens.endsWith('in') ? 25.4 : 1);
          expect(machine.lenses[i]!.focalMm).toBeCloseTo(mm, 2);
        }
        const { power } = machine.controller;
        expect(power && `${power.word} ${power.full}`).toEqual(scaled ? powerWord : null);
      }),
      { numRuns: 100 },
    );
  });

  it('states in its comments just what is taken without them', () => {
    fc.assert(
      fc.property(typedMachine, (typed) => {
        const facts = factsOf(typed);
        const draft = machineDraft(facts, null);
        const { assumed, placeOf: _a, ...taken } = read(facts, draft);
        const { assumed: left, placeOf: _b, ...stated } = read(facts, uncommented(draft));
        expect(assumed.length).toBeGreaterThan(5);
        // Nobody can state what was measured but by measuring.
        expect(left.filter(({ key }) => !key.startsWith('source.measured'))).toEqual([]);
        const numbers = ({ source, beam, lenses, controller }: typeof taken) => ({ source, beam, lenses, controller });
        expect({ ...numbers(stated), motion: { ...stated.motion, stated: null } }).toEqual({
          ...numbers(taken),
          motion: { ...taken.motion, stated: null },
        });
      }),
      { numRuns: 60 },
    );
  });

  it('gives every default with where it comes from', () => {
    const facts = factsOf(TYPED);
    const draft = machineDraft(facts, null);
    for (const { key, basis } of read(facts, draft).assumed) {
      const name = key.slice(key.lastIndexOf('.') + 1);
      if (key === 'source.measured') continue;
      expect(draft).toContain(`${name}: `);
      expect(draft).toContain(`# ${basis}\n`);
    }
  });

  it('never takes the power scale, and says what it waits for', () => {
    const facts = factsOf(TYPED);
    const draft = machineDraft(facts, null);
    expect(draft).toMatch(/^# The power scale is never assumed: toolpaths stay incomplete/m);
    expect(draft).toMatch(/^# {3}power: \{ word: S, full: … \}$/m);
    expect(read(facts, draft).controller.power).toBeNull();
  });

  it('names its schema where that is known', () => {
    expect(machineDraft(factsOf(TYPED), '../schemas')).toMatch(
      /^# yaml-language-server: \$schema=\.\.\/schemas\/machine\.schema\.json\n/,
    );
    expect(machineDraft(factsOf(TYPED), null)).not.toContain('yaml-language-server');
  });
});

it('drafted settings name the folders', () => {
  const { value, problems } = readSettings(
    textSource('.kerflint.yaml', settingsDraft('machines', 'my materials', null)),
  );
  expect(problems).toEqual([]);
  expect(value).toMatchObject({ machines: ['machines'], materials: ['my materials'] });
});
