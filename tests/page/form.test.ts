// What is typed into the page's form, read as `init` and `check` read it.
import { describe, expect, it } from 'vitest';
import { machineDraft } from '../../src/bench/machine/machine-draft.ts';
import { readMachineFacts } from '../../src/bench/machine/machine-facts.ts';
import { searched } from '../../src/page/form/material-search.ts';
import { described, machineIdOf, readForm, type TypedForm } from '../../src/page/form/typed-form.ts';
import type { MaterialEntry } from '../../src/page/worker/messages.ts';

const TYPED: TypedForm = {
  which: '',
  kind: 'co2',
  rated: '60 W',
  lens: '2 in',
  bed: '600 x 400 mm',
  scale: '',
  name: '',
  material: 'birch-plywood',
  thickness: '3 mm',
  today: '2026-11-25',
};
const problems = (typed: Partial<TypedForm>, paths: string[] = ['a.svg']) =>
  readForm({ ...TYPED, ...typed }, paths).wrong.map(({ field, text }) => `${field}: ${text}`);

describe("the page's form", () => {
  it('gives a machine the same profile as the options of init', () => {
    const read = readForm({ ...TYPED, scale: '1000' }, ['a.gcode']);
    const { facts } = readMachineFacts({
      machine: 'co2-60w',
      source: 'co2',
      rated: '60 W',
      lens: ['2 in'],
      bed: '600 x 400 mm',
      powerWord: 'S 1000',
    });
    expect(read.profile).toEqual({ id: 'co2-60w', text: machineDraft(facts!, null) });
    expect(read.filled).toEqual({ machine: 'co2-60w', material: 'birch-plywood', thickness: '3 mm' });
  });

  it.each([
    [{ rated: '60' }, '60 W'],
    [{ rated: ' 60 W ' }, '60 W'],
    [{ rated: '0.06 kW' }, '60 W'],
  ])('takes watts with their unit or without: %j', (typed, text) => {
    expect(described({ ...TYPED, ...typed }).facts?.rated.text).toBe(text);
  });

  it('takes bare numbers for mm only where they can be nothing else', () => {
    expect(described({ ...TYPED, lens: '50.8', bed: '600 x 400' }).facts).toMatchObject({
      lenses: [{ focalMm: 50.8 }],
      bed: { x: '600 mm', y: '400 mm' },
    });
    expect(problems({ lens: '2', bed: '24 x 16' })).toEqual([
      expect.stringMatching(/^lens: "2" has no unit/),
      expect.stringMatching(/^bed: "24 x 16" has no unit/),
    ]);
  });

  it('takes several lenses, the fitted one first', () => {
    expect(described({ ...TYPED, lens: '2 in; 4 in' }).facts?.lenses.map(({ id }) => id)).toEqual(['2in', '4in']);
  });

  it('names a machine by its kind and power until it has a name', () => {
    expect(machineIdOf({ ...TYPED, kind: 'diode', rated: '5.5 W' })).toBe('diode-5.5w');
    expect(machineIdOf({ ...TYPED, name: ' shed ' })).toBe('shed');
  });

  it('asks for each thing that is missing, beside its field', () => {
    const fields = problems({ rated: '', lens: '', bed: '', material: '', thickness: '' }).map(
      (one) => one.split(':')[0],
    );
    expect(fields).toEqual(['material', 'thickness', 'rated', 'lens', 'bed']);
    expect(problems({ today: '2026-02-30' })).toEqual(['today: Give a day of the calendar.']);
  });

  it('asks for nothing where sidecars say it, unless the sheet is filled in', () => {
    const empty = { rated: '', material: '', thickness: '' };
    expect(problems(empty, ['a.job.yaml', 'a.svg'])).toEqual([]);
    expect(readForm({ ...TYPED, ...empty }, ['a.job.yaml']).filled).toEqual({});
    expect(problems({ ...empty, material: 'card' }, ['a.job.yaml', 'a.svg'])).not.toEqual([]);
  });

  it('takes no name that a profile among the files has', () => {
    expect(problems({ name: 'shed-60w' }, ['a.svg', 'machines/shed-60w.machine.yaml'])).toEqual([
      expect.stringMatching(/^name: shed-60w is a profile among the files/),
    ]);
  });
});

describe('the search for a material', () => {
  const entry = (id: string, aliases: string[] = []): MaterialEntry => ({
    id,
    name: id.replaceAll('-', ' '),
    aliases,
    hazard: { class: 'usual', reason: '' },
  });
  const entries = [
    entry('poplar-plywood', ['ply']),
    entry('card'),
    entry('plywood-birch'),
    entry('pine', ['Kiefer', 'pín']),
  ];
  const found = (typed: string) => searched(typed, entries).map(({ entry: { id } }) => id);

  it('has all while nothing is typed', () => expect(found(' ')).toHaveLength(4));
  it('has names that begin with it first', () => expect(found('Ply')).toEqual(['plywood-birch', 'poplar-plywood']));
  it('says the alias by which a material was found, whatever its accents', () => {
    expect(searched('kief', entries)).toEqual([{ entry: entries[3], alias: 'Kiefer' }]);
    expect(found('poplar plywood')).toEqual(['poplar-plywood']);
  });
  it('has none for what nothing is called', () => expect(found('granite')).toEqual([]));
});
