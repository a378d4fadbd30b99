import { describe, expect, it } from 'vitest';
import type { MaterialMeant } from '../../../src/facts/types.ts';
import { unansweredOf } from '../../../src/facts/unanswered/of-job.ts';
import { artwork, at, cut, facts, problem, toolpath } from '../../rules/build-facts.ts';

const asked = (change: Parameters<typeof facts>[0], found: Parameters<typeof unansweredOf>[1] = []) =>
  unansweredOf(facts(change), found);

const SHEET = 'what the sheet gives off, and whether the sheet parts';

describe('what a job leaves open', () => {
  it('is nothing where all is known and was read', () => {
    expect(asked({})).toEqual([]);
    expect(asked({ toolpath: null, artwork: null })).toEqual([]);
  });

  it('is what a file holds that cannot be read', () => {
    const one = (file: string, unreadable: boolean) =>
      ({ file, problem: problem('x'), severity: 'error', unreadable }) as const;
    const inputProblems = [one('coaster.job.yaml', true), one('shed-60w.machine.yaml', false)];
    expect(asked({ inputProblems })).toEqual([
      {
        fact: 'file',
        what: 'what is in a file of the job',
        missing: 'a file named in coaster.job.yaml cannot be read',
        remedy: 'Correct the name in coaster.job.yaml, or make the file readable.',
      },
    ]);
  });

  it('is what a sheet is made of that was declared unknown', () => {
    expect(asked({ material: null, materialUnknown: true })).toEqual([
      {
        fact: 'material',
        what: SHEET,
        missing: 'the material is unknown',
        remedy: 'Ask the supplier for the safety data sheet, then name the material by its id or an alias.',
      },
    ]);
  });

  it('is a toolpath or artwork that was not read to its end', () => {
    expect(asked({ toolpath: toolpath({ analysed: false }) })).toEqual([
      {
        fact: 'toolpath',
        what: 'where the head goes and where the beam fires',
        missing: 'beam or motion of the toolpath could not be analysed',
        remedy: 'Put right what the findings on the toolpath name, or write it as plain moves.',
      },
    ]);
    expect(asked({ artwork: artwork({ analysed: false }) })).toEqual([
      {
        fact: 'artwork',
        what: 'what is drawn behind the place where reading ended',
        missing: 'the artwork could not be read to its end',
        remedy: 'Put right what the findings on the artwork name, or export it again.',
      },
    ]);
  });

  it('is told once each: what was found before, files, material, power, reading, cuts', () => {
    const doubt = { kind: 'topped', raw: 255, share: 0.255, full: 1000, scale: 255, planned: null } as const;
    const unclaimed = { parting: null, open: { strokes: 1, lengthMm: 5, location: at('a', 3), throughProbability: 0 } };
    const all = asked(
      {
        inputProblems: [{ file: 'coaster.job.yaml', problem: problem('x'), severity: 'error', unreadable: true }],
        material: null,
        materialName: 'slate',
        scaleDoubt: { ...doubt, place: at('', 6) },
        toolpath: toolpath({ analysed: false }),
        artwork: artwork({ analysed: false }),
        cuts: [cut()],
        unclaimed,
      },
      [
        { fact: 'search', what: 'a', missing: 'b', remedy: 'c' },
        { fact: 'toolpath', what: 'x', missing: 'beam or motion of the toolpath could not be analysed', remedy: 'y' },
      ],
    );
    expect(all.map(({ fact }) => fact)).toEqual([
      'search',
      'toolpath',
      'file',
      'material',
      'power-scale',
      'artwork',
      'task',
    ]);
    expect(all[1]!.remedy).toBe('y');
  });
});

describe('a material that is not known here', () => {
  const named = (materialMeant: MaterialMeant | null) => {
    const [one, ...rest] = asked({ material: null, materialName: 'slate', materialMeant });
    expect([one?.fact, one?.what, rest]).toEqual(['material', SHEET, []]);
    return [one!.missing, one!.remedy];
  };
  const choice = (id: string) => ({
    id,
    name: id,
    hazard: { class: 'usual', reason: 'wood smoke', source: 'invented' } as const,
    differs: null,
  });
  const describeIt = 'describe the material in a *.material.yaml from its safety data sheet.';

  it('is corrected or described', () => {
    const words = ['the material is not known here', `Correct the name, or ${describeIt}`];
    expect(named(null)).toEqual(words);
    expect(named({ why: 'like', word: 'slat', choices: [choice('slat')] })).toEqual(words);
  });

  it('is kept from the beam where its name is like that of a hazard', () => {
    expect(named({ why: 'hazard', word: 'pvc', choices: [choice('pvc')] })).toEqual([
      'the material is not known here, and its name is like "pvc"',
      `Keep the sheet from the beam until it is known what it is, then ${describeIt}`,
    ]);
  });

  it('is named among its kind where only that was written', () => {
    const choices = ['birch-plywood', 'poplar-plywood', 'beech-plywood'].map(choice);
    expect(named({ why: 'kind', word: 'plywood', choices })).toEqual([
      'the material does not say which plywood it is',
      'Name birch-plywood, poplar-plywood or beech-plywood.',
    ]);
  });

  it('is not asked for where it is known, or none was named: that is asked for itself', () => {
    expect(asked({ materialName: 'birch' })).toEqual([]);
    expect(asked({ material: null, materialName: null })).toEqual([]);
  });
});
