import { readdirSync, readFileSync } from 'node:fs';
import { Ajv } from 'ajv';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { readAllEvidence } from '../../fit/rows.ts';
import { ERROR_BELOW_BY_CATALOGUE } from '../../src/facts/cuts/error-below-by-catalogue.ts';
import { inputOfPublished } from '../../src/facts/evidence/published-cut.ts';
import { readCitedCuts } from '../../src/job/evidence/cited-cuts.ts';
import { readEvidence } from '../../src/job/evidence/evidence.ts';
import { predictCut } from '../../src/physics/doubt/predict.ts';
import { textSource } from '../../src/source/source.ts';
import { material } from './catalogue-files.ts';

const SHIPPED = readFileSync(new URL('../../data/published-cuts.json', import.meta.url), 'utf8');
const FOLDER = new URL('../../data/evidence/', import.meta.url);
const FILES = readdirSync(FOLDER).map((file) => ({ file, text: readFileSync(new URL(file, FOLDER), 'utf8') }));
const EVIDENCE = readAllEvidence();
const CUTS = EVIDENCE.flatMap((source) => source.cuts.map((cut) => ({ source, cut })));

/** Each file names where its rows were published; what comes of the fit is in docs/evidence.md, held by `npm run check:fit`. */
describe('the published cuts in data/evidence', () => {
  it('are those of 13 sources, two of which are of a journal', () => {
    expect(EVIDENCE.length).toBe(13);
    expect(CUTS.length).toBe(86);
    expect(new Set(CUTS.map(({ cut }) => cut.id)).size).toBe(86);
  });

  it.each(FILES)('are not taken from $file without its citation', ({ file, text }) => {
    expect(readEvidence(textSource(file, text)).problems).toEqual([]);
    const without = text.replace(/^citation: .*\n/m, '');
    expect(without).not.toBe(text);
    expect(readEvidence(textSource(file, without)).value).toBeNull();
  });

  // Ajv is a JSON Schema validator of its own: it sees what an editor sees.
  it('have no fault in an editor', () => {
    const schema = readFileSync(new URL('../../schemas/evidence.schema.json', import.meta.url), 'utf8');
    const valid = new Ajv({ strict: false }).compile(JSON.parse(schema));
    for (const { file, text } of FILES) {
      expect(text.split('\n')[0], file).toBe('# yaml-language-server: $schema=../../schemas/evidence.schema.json');
      expect(valid(parse(text)) ? null : valid.errors, file).toBeNull();
    }
  });

  it('are each of a material that the catalogue has, and can be predicted', () => {
    for (const { source, cut } of CUTS) {
      const { value: input, problem } = inputOfPublished(source, cut, material(cut.material));
      expect(problem, cut.id).toBeNull();
      expect(predictCut(input!).problem, cut.id).toBeNull();
    }
  });
});

/** The file that is shown beside predictions is written by the fit; here it is held against the sources and against the model. */
describe('the published cuts that ship', () => {
  const cited = new Map(readCitedCuts(textSource('published-cuts.json', SHIPPED)).map((cut) => [cut.id, cut]));

  // The sources' own YAML, read by the yaml package and nothing of ours: numbers as written, units off.
  it('are those of data/evidence, each with its citation', () => {
    const number = (text: string) => Number(/^[\d.]+/.exec(text)![0]);
    let rows = 0;
    for (const { text } of FILES) {
      const { id, citation, machine, cuts = [] } = parse(text);
      for (const row of cuts) {
        rows++;
        const cut = cited.get(row.id)!;
        expect(cut, row.id).toMatchObject({ source: id, citation, kind: machine.kind, material: row.material });
        expect(cut).toMatchObject({
          outcome: row.outcome,
          use: row.use,
          quality: row.quality,
          passes: row.passes ?? 1,
        });
        expect(cut.worn, row.id).toBe(row.worn ?? false);
        if (/ mm$/.test(row.thickness)) expect(cut.thicknessMm, row.id).toBe(number(row.thickness));
        if (/ mm\/s$/.test(row.speed)) expect(cut.speedMmPerS, row.id).toBe(number(row.speed));
        if (/%$/.test(row.power)) expect(cut.setting, row.id).toBeCloseTo(number(row.power) / 100, 6);
        else expect([cut.setting, cut.powerW], row.id).toEqual([null, number(row.power)]);
      }
    }
    expect(cited.size).toBe(rows);
  });

  it('have with them what the catalogue says today', () => {
    for (const { source, cut } of CUTS) {
      const { value: input } = inputOfPublished(source, cut, material(cut.material));
      const { prediction } = predictCut(input!);
      const { throughProbability, predictedDepthMm } = cited.get(cut.id)!;
      expect(throughProbability, cut.id).toBeCloseTo(prediction!.throughProbability, 3);
      expect(predictedDepthMm, cut.id).toBeCloseTo(prediction!.depthMm, 1);
    }
  });
});

describe('what the catalogue says of the published cuts', () => {
  const chances = (kind: 'co2' | 'diode') =>
    CUTS.filter(({ source, cut }) => source.machine!.kind === kind && cut.quality !== 'C' && !cut.worn).map(
      ({ source, cut }) => {
        const { value: input } = inputOfPublished(source, cut, material(cut.material));
        return { cut, chance: predictCut(input!).prediction!.throughProbability };
      },
    );

  // Fitted to them, so no check of the model: docs/evidence.md has what a fit says that has not seen their sources.
  it('does not tell more than one daily setting in twenty that it falls short', () => {
    const daily = chances('co2').filter(({ cut }) => cut.use === 'daily');
    expect(daily.length).toBe(36);
    expect(daily.filter(({ chance }) => chance < ERROR_BELOW_BY_CATALOGUE).length).toBeLessThanOrEqual(1);
  });

  it('passes no cut that did not part', () => {
    const not = [...chances('co2'), ...chances('diode')].filter(({ cut }) => cut.outcome === 'not');
    expect(not.length).toBe(9);
    expect(not.filter(({ chance }) => chance >= 0.9).map(({ cut }) => cut.id)).toEqual([]);
  });

  // Two shops are too few to fit a coupling: what they say is that a belief, and its spread, is not out of the question.
  it('leaves the coupling of a diode in so wide a doubt that no outcome of the two shops surprises', () => {
    const diode = chances('diode');
    expect(diode.length).toBe(7);
    for (const { cut, chance } of diode)
      expect(cut.outcome === 'cut' ? chance : 1 - chance, cut.id).toBeGreaterThan(0.1);
  });
});
