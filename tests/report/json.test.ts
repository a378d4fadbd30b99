import { readFileSync } from 'node:fs';
import { Ajv } from 'ajv';
import type * as v from 'valibot';
import { describe, expect, expectTypeOf, it } from 'vitest';
import type { RunResult } from '../../src/findings/result.ts';
import { json } from '../../src/report/data/json.ts';
import type { resultSchema } from '../../src/report/data/result-schema.ts';
import { reportText } from '../../src/report/report-context.ts';
import { finding, job, run } from '../findings/results.ts';
import { context } from './context.ts';

const schema = JSON.parse(readFileSync(new URL('../../schemas/result.schema.json', import.meta.url), 'utf8'));
const fits = new Ajv({ strict: false, allErrors: true }).compile(schema);

const RESULTS: [string, RunResult][] = [
  ['no jobs', run([])],
  ['a job that passes', run([job()])],
  [
    'everything at once',
    run(
      [job({ findings: [finding({ data: { speedMmPerS: 7.5 }, hints: ['x'], excerpt: null })] })],
      [{ file: 'a', reason: 'b' }],
    ),
  ],
  [
    'a job of which nothing is known',
    run([
      job({
        machine: null,
        lens: null,
        material: null,
        thicknessMm: null,
        cuts: [],
        time: null,
        waste: null,
        files: {},
        incomplete: ['x'],
      }),
    ]),
  ],
  ['text from strangers', run([job({ name: '\u009b\u202e##[error]\ud800' })])],
];

describe('the JSON report', () => {
  it.each(RESULTS)('of %s fits its schema and gives the result back', (_, result) => {
    const text = reportText(json, result, context());
    expect(fits(JSON.parse(text)), JSON.stringify(fits.errors)).toBe(true);
    expect(JSON.parse(text)).toEqual(result);
  });

  it('that lacks something, or says something else, does not fit', () => {
    for (const [key, value] of [
      ['verdict', 'safe'],
      ['schemaVersion', 2],
      ['jobs', undefined],
    ] as const) {
      expect(fits({ ...run([job()]), [key]: value })).toBe(false);
    }
  });

  it('has a schema that says what the types say', () => {
    type Plain<T> = T extends object ? { [K in keyof T]: Plain<T[K]> } : T;
    // Optional keys of the schema may also hold undefined, which JSON cannot tell from an absent key.
    expectTypeOf<Plain<RunResult>>().toExtend<Plain<v.InferOutput<typeof resultSchema>>>();
    expectTypeOf<keyof RunResult>().toEqualTypeOf<keyof v.InferOutput<typeof resultSchema>>();
    expectTypeOf<keyof RunResult['jobs'][number]>().toEqualTypeOf<
      keyof v.InferOutput<typeof resultSchema>['jobs'][number]
    >();
    expectTypeOf<keyof RunResult['jobs'][number]['findings'][number]>().toEqualTypeOf<
      keyof v.InferOutput<typeof resultSchema>['jobs'][number]['findings'][number]
    >();
  });
});
