import { toJsonSchema } from '@valibot/to-json-schema';
import type { GenericSchema } from 'valibot';
import { evidenceSchema } from '../src/job/evidence/evidence-schema.ts';
import { benchSchema } from '../src/job/machine/bench-schema.ts';
import { machineSchema } from '../src/job/machine/machine-schema.ts';
import { couponResultsSchema } from '../src/job/material/coupon-results-schema.ts';
import { materialSchema } from '../src/job/material/material-schema.ts';
import { settingsSchema } from '../src/job/settings/settings-schema.ts';
import { sidecarSchema } from '../src/job/sidecar/sidecar-schema.ts';
import { drawingSchema } from '../src/report/data/drawing-schema.ts';
import { resultSchema } from '../src/report/data/result-schema.ts';
import type { Generated } from './generate.ts';

const FORMATS: Record<string, GenericSchema> = {
  job: sidecarSchema,
  machine: machineSchema,
  bench: benchSchema,
  material: materialSchema,
  settings: settingsSchema,
  'coupon-results': couponResultsSchema,
  evidence: evidenceSchema,
  result: resultSchema,
  drawing: drawingSchema,
};

/** Checks that a JSON Schema has no word for; the reader makes them. */
const ONLY_IN_THE_READER = ['check', 'raw_transform', 'transform'];

/** The JSON Schemas of the files that people write, for editors, and of result and drawing, from the same schemas that check them. */
export function jsonSchemas(): Generated {
  const files: Generated = new Map();
  for (const [name, schema] of Object.entries(FORMATS)) {
    const json = toJsonSchema(schema, { typeMode: 'input', errorMode: 'throw', ignoreActions: ONLY_IN_THE_READER });
    files.set(`schemas/${name}.schema.json`, `${JSON.stringify(json, null, 2)}\n`);
  }
  return files;
}
