// Every regular expression of ours, held to linear time by a checker that reasons over automata (recheck), so that no text can make a
// search without end. Those that it calls slower, or cannot prove, stand in lists with the reason why they are harmless all the same.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { check } from 'recheck';
import ts from 'typescript';
import { beforeAll, describe, expect, it } from 'vitest';
import { NUMBER_PATTERN } from '../../src/units/quantity.ts';
import { REPOSITORY } from '../cli/harness.ts';
import { NEVER_ENDING_MS } from '../patience.ts';
import { nodesOf, ownSources, type Parsed } from './syntax.ts';

interface Pattern {
  path: string;
  source: string;
  flags: string;
}

/** Slower than linear, and so only for texts of a bounded length: the bound, by file and pattern. */
const BOUNDED: Record<string, Record<string, string>> = {
  'src/job/files/access.ts': {
    '/\\/+$/': 'a folder of the command line, made absolute before: no text of a file',
  },
  'src/job/files/exclude.ts': {
    '/\\/+$/': 'a pattern of trusted settings: at most 400 units (settingsSchema)',
  },
  'src/units/compound-quantities.ts': {
    '/[^\\d\\s./]+\\s*$/': 'a tolerance that was read as a quantity just before: at most 120 units (LONGEST)',
  },
  'src/units/dimensions.ts': {
    '/\\s*([/·])\\s*/g': 'the unit of a quantity: at most 120 units (LONGEST)',
  },
};

const LENS_ID = 'begins at the start only; what looks ahead reads the text once, the rest 64 characters';
const NUMBER = `^([+\\-−]?)\\s*(${NUMBER_PATTERN})(?![\\d.])\\s*(.*)$`;

/** What looks ahead is beyond the checker. Why it is linear, by file and pattern. */
const LOOKING_AHEAD: Record<string, Record<string, string>> = {
  'src/gcode/text/words.ts': {
    '/G\\s*0*(28|30)(?![\\d.])/i':
      'from a G it reads the blanks and zeros up to the next other character, and no G is among them',
  },
  'src/job/machine/machine-schema.ts': { '/^(?=.*[A-Za-z])[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/': LENS_ID },
  'src/job/yaml/shape.ts': { '/^(?=.*[A-Za-z])[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/': LENS_ID },
  'src/units/format.ts': {
    '/(?<![\\d.,–-])(\\d{1,15}) ([A-Za-z]+)/g':
      'from a place it reads at most fifteen digits and a blank, then letters; no letter is a place to begin at',
  },
  'src/units/quantity.ts': {
    [`/${NUMBER}/s`]:
      'begins at the start only; a digit given back meets another digit at once; behind the number anything fits',
  },
};

/** Patterns that are put together at run time: the texts of the calls, by file, and what becomes of them. */
const COMPOSED: Record<string, { calls: string[]; made: () => Omit<Pattern, 'path'>[] }> = {
  'src/job/yaml/shape.ts': {
    calls: ['new RegExp(pattern)'],
    made: () => patternsOfSchemas().map((source) => ({ source, flags: '' })),
  },
  'src/units/quantity.ts': {
    // biome-ignore lint/suspicious/noTemplateCurlyInString: it is the text of the call
    calls: ["new RegExp(`^([+\\\\-−]?)\\\\s*(${NUMBER_PATTERN})(?![\\\\d.])\\\\s*(.*)$`, 's')"],
    made: () => [{ source: NUMBER, flags: 's' }],
  },
};

/** The schemas are generated from the very checks that the readers make (`npm run check:generated`). */
function patternsOfSchemas(): string[] {
  const folder = join(REPOSITORY, 'schemas');
  const patterns = new Set<string>();
  for (const name of readdirSync(folder)) {
    JSON.parse(readFileSync(join(folder, name), 'utf8'), (key, value) => {
      if (key === 'pattern' && typeof value === 'string') patterns.add(value);
      return value;
    });
  }
  return [...patterns].sort();
}

function literalsOf({ path, tree }: Parsed): Pattern[] {
  return [...nodesOf(tree)].flatMap((node) => {
    if (!ts.isRegularExpressionLiteral(node)) return [];
    const end = node.text.lastIndexOf('/');
    return { path, source: node.text.slice(1, end), flags: node.text.slice(end + 1) };
  });
}

/** Wherever the class is named: the calls that make a pattern of a text, or whatever else is done with it. */
function composedOf({ tree }: Parsed): string[] {
  return [...nodesOf(tree)].flatMap((node) => {
    if (!(ts.isIdentifier(node) && node.text === 'RegExp') || ts.isTypeReferenceNode(node.parent)) return [];
    return node.parent.getText();
  });
}

const own = ownSources();
const literals = own.flatMap(literalsOf);
const composed = Object.entries(COMPOSED).flatMap(([path, { made }]) => made().map((one) => ({ path, ...one })));

type Speed = 'linear' | 'slower' | 'looks ahead' | 'not judged';
const known = new Map<string, Speed>();

/** The checker takes its build for this machine where it has one, else its JavaScript, which says the same after a minute or two. */
async function judge({ source, flags }: Omit<Pattern, 'path'>): Promise<Speed> {
  const judged = await check(source, flags, { checker: 'automaton', timeout: NEVER_ENDING_MS });
  if (judged.status !== 'unknown') return judged.status === 'safe' ? 'linear' : 'slower';
  const { error } = judged;
  return error.kind === 'unsupported' && /^look-/.test(error.message) ? 'looks ahead' : 'not judged';
}

const shown = ({ source, flags }: Omit<Pattern, 'path'>) => `/${source}/${flags}`;

beforeAll(async () => {
  for (const one of [...literals, ...composed]) {
    if (!known.has(shown(one))) known.set(shown(one), await judge(one));
  }
});

/** The patterns of a kind by file, in the form of the lists above. */
function ofSpeed(speed: Speed): Record<string, string[]> {
  const found: Record<string, Set<string>> = {};
  for (const one of [...literals, ...composed]) {
    if (known.get(shown(one)) !== speed) continue;
    found[one.path] ??= new Set();
    found[one.path]!.add(shown(one));
  }
  return Object.fromEntries(Object.entries(found).map(([path, patterns]) => [path, [...patterns]]));
}

const listed = (list: Record<string, Record<string, string>>) =>
  Object.fromEntries(Object.entries(list).map(([path, patterns]) => [path, Object.keys(patterns)]));

describe('the checker', () => {
  it.each<[string, string, Speed]>([
    ['(a+)+$', '', 'slower'],
    ['\\s+$', '', 'slower'],
    ['^\\s+|\\s+$', 'g', 'slower'],
    ['^(?:[ \\t]*(?:#[^\\n]*)?\\r?\\n)*%', '', 'slower'],
    ['/\\*[\\s\\S]*?\\*/', 'g', 'slower'],
    ['(?=a+)b+c', '', 'looks ahead'],
    ['(a+)\\1b', '', 'not judged'],
    ['^\\s+', '', 'linear'],
    ['\\s+$', 'y', 'linear'],
    ['[a-z]+', 'g', 'linear'],
  ])('calls /%s/%s %s', async (source, flags, speed) => {
    expect(await judge({ source, flags })).toBe(speed);
  });
});

describe('the regular expressions of our sources', () => {
  it('are all found', () => {
    expect(literals.length).toBeGreaterThan(100);
    expect(patternsOfSchemas().length).toBeGreaterThan(10);
  });

  it('are put together at run time only where it is known of what', () => {
    const calls = Object.fromEntries(
      own.map((file) => [file.path, composedOf(file)]).filter(([, found]) => found!.length > 0),
    );
    expect(calls).toEqual(Object.fromEntries(Object.entries(COMPOSED).map(([path, one]) => [path, one.calls])));
  });

  it('take linear time, but for those that only read short texts', () => {
    expect(ofSpeed('slower')).toEqual(listed(BOUNDED));
  });

  it('are proved so, but for those that look ahead', () => {
    expect(ofSpeed('looks ahead')).toEqual(listed(LOOKING_AHEAD));
    expect(ofSpeed('not judged')).toEqual({});
  });
});
