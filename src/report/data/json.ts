import { jsonText } from '../escape.ts';
import type { Format } from '../report-context.ts';

/** The result as it is (schemas/result.schema.json), with a line end. */
export const json: Format = (result) => `${jsonText(JSON.stringify(result, null, 2))}\n`;
