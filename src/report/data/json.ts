import { jsonText } from '../escape.ts';
import type { Format } from '../report-context.ts';

/**
 * The result as it is (schemas/result.schema.json), with a line end. The jobs stand ahead of what follows from them, so that each is
 * written when it is judged.
 */
export const json: Format = {
  open(_, { schemaVersion, tool }) {
    let opening = `${lines({ schemaVersion, tool }).slice(0, -2)},\n  "jobs": [`;
    let first = true;
    return {
      job(result) {
        const text = `${opening}${first ? '' : ','}\n    ${lines(result).replaceAll('\n', '\n    ')}`;
        opening = '';
        first = false;
        return text;
      },
      end({ schemaVersion: _version, tool: _tool, ...rest }) {
        return [`${opening}${first ? '' : '\n  '}],\n${lines(rest).slice(2)}\n`];
      },
    };
  },
};

/** JSON over several lines; a line break stands only between its parts. */
function lines(value: unknown): string {
  return jsonText(JSON.stringify(value, null, 2));
}
