import { createHash } from 'node:crypto';
import { isDeepStrictEqual } from 'node:util';
import { safeParse } from 'valibot';
import type { JobResult } from '../../findings/result.ts';
import { jobResultSchema } from '../../report/data/result-schema.ts';

/** The first line of an entry says what it is; the rest is the result as JSON. */
const MARK = 'kerflint job result';

/** A result as text, bound to its key. Null when it would not come back exactly as it is. */
export function encodeEntry(key: string, result: JobResult): string | null {
  const body = JSON.stringify(result);
  if (!isDeepStrictEqual(JSON.parse(body), result)) return null;
  return `${firstLine(key, body)}\n${body}`;
}

/** The result in an entry; null when it is not a whole one of this key. Never throws on input. */
export function decodeEntry(key: string, text: string): JobResult | null {
  const end = text.indexOf('\n');
  const body = text.slice(end + 1);
  if (end < 0 || text.slice(0, end) !== firstLine(key, body)) return null;
  try {
    const data: unknown = JSON.parse(body);
    // The schema has checked it; as in `join`, the data itself is given back.
    return safeParse(jobResultSchema, data).success ? (data as JobResult) : null;
  } catch {
    return null;
  }
}

function firstLine(key: string, body: string): string {
  return `${MARK} ${key} ${createHash('sha256').update(body).digest('hex')}`;
}
