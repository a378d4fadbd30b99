import type { ReaderProblem, ToolpathReader } from '../../../src/model/reader.ts';
import type { Source } from '../../../src/source/source.ts';

export const LINE_LIST = 'line-list';

export const LINE_LIST_PROBLEMS = {
  'unknown-verb': {
    messageId: 'lineVerb',
    message: 'A line of a line list begins with cut and not with {text}{more}. Write cut, or make it a remark.',
  },
} as const satisfies Record<string, ReaderProblem>;

const decoder = () => new TextDecoder('latin1');

/** Latin-1: a byte is a character. */
function asUtf8(source: Source): Source {
  return {
    name: source.name,
    size: source.size,
    *chunks() {
      for (const chunk of source.chunks()) yield new TextEncoder().encode(decoder().decode(chunk));
    },
  };
}

/**
 * A format made up for this test: one polyline a line, as `cut <power in %> <speed in mm/s> <x>,<y> <x>,<y> …`, in Latin-1. What stands
 * behind `#` is a remark.
 */
export const lineListReader: ToolpathReader = {
  id: LINE_LIST,
  makes: 'toolpath',
  name: 'line list',
  extensions: ['.lines'],
  recognises: (head) => /^cut \d/m.test(decoder().decode(head)),
  comments: [{ opens: '#', closes: null }],
  asUtf8,
  problems: LINE_LIST_PROBLEMS,
  standard: 'tests/model/line-list/reader.ts',
  load: async () => ({ read: (await import('./read.ts')).readLineList }),
};
