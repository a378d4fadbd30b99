import type { GcodeProblemCode } from '../problem-texts.ts';
import type { Block } from './block.ts';
import { type Uncommented, withoutComments } from './comments.ts';
import { type HostLine, isRemark, readHostLine } from './host-lines.ts';
import type { Issue, Report } from './issue.ts';
import { quote } from './quote.ts';
import { TEXT_CODES } from './scan.ts';
import { readWords } from './words.ts';

export interface OddLine {
  /** The block that was passed in holds words to carry out. */
  hasWords: boolean;
  /** A line that holds `%` alone. */
  percent: boolean;
  /** The line starts with the block-delete slash: RS274 skips it only while a switch is on. */
  blockDelete: boolean;
  comment: string | null;
  /** The line is for the controller or the sender, and no part of the program. */
  host: HostLine | null;
  issues: Issue[];
}

/** As what a line for the host is told; null where that depends on what it sets. */
const WHAT_OF_HOST_LINES: Record<HostLine['kind'], string | null> = {
  'passed-over': 'passed-over',
  homes: 'passed-over',
  'motion-limits': 'motion-limits',
  setting: null,
  unknown: 'setting',
};

/** Reads a line that is not made of plain words alone. */
export function readOddLine(text: string, line: number, block: Block): OddLine {
  block.clear(line);
  const result: OddLine = {
    hasWords: false,
    percent: false,
    blockDelete: false,
    comment: null,
    host: null,
    issues: [],
  };
  const issue = (code: GcodeProblemCode, args: Issue['args'], start: number, end: number, loses: boolean) => {
    result.issues.push({ code, args, start, end, loses });
    return result;
  };
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
  const control = /[\u0000-\u0008\u000e-\u001f\u007f]/.exec(text);
  if (control) return issue('binary', { byte: text.charCodeAt(control.index) }, control.index, control.index + 1, true);

  const plain = text.startsWith('\uFEFF') ? ` ${text.slice(1)}` : text;
  // Ahead of the comments: what stands in parentheses inside a remark is part of it.
  if (isRemark(plain.trim())) {
    const from = plain.length - plain.trimStart().length;
    result.host = { kind: 'passed-over' };
    const args = { what: 'passed-over', text: quote(plain.trim()), lines: 1 };
    return issue('not-analysed', args, from, plain.trimEnd().length, false);
  }
  const { code, comment, fault } = withoutComments(plain);
  result.comment = comment;
  block.comment = comment;
  if (fault) issueOfFault(text, fault, issue);
  const start = code.length - code.trimStart().length;
  const bare = code.trim();
  if (bare === '') return result;
  const whole = { start, end: start + bare.length };
  if (bare === '%') {
    result.percent = true;
    return result;
  }
  result.host = readHostLine(bare);
  if (result.host) {
    const what = WHAT_OF_HOST_LINES[result.host.kind];
    if (what === null) return result;
    const args = { what, text: quote(bare), lines: 1 };
    return issue('not-analysed', args, whole.start, whole.end, what === 'setting');
  }
  result.blockDelete = bare.startsWith('/');
  const statement = result.blockDelete ? code.replace('/', ' ') : code;
  const first = /^\s*(?:N\s*\d+\s*)?([A-Za-z])\s*(\d*)/i.exec(statement);
  const letter = first?.[1]?.toUpperCase();
  if (letter === 'M' && TEXT_CODES.has(Number(first![2]) * 10)) {
    block.add(12, Number(first![2]), whole.start, whole.end);
    result.hasWords = true;
    return result;
  }
  if (letter === 'O' && /^\s*(?:N\s*\d+\s*)?O\s*\d+\s*$/i.test(statement)) return result;
  const what = computed(statement, letter);
  if (what !== null) return issue('not-analysed', { what, text: quote(bare), lines: 1 }, whole.start, whole.end, true);
  if (!readWords(withoutChecksum(text, statement, bare, issue), block, issue)) return result;
  if (!result.issues.some((i) => i.loses) && block.mask !== 0) result.hasWords = true;
  return result;
}

/** Words in what may be a comment: some controllers take it to end at the first parenthesis, or at the end of the line, and run them. */
function issueOfFault(text: string, fault: NonNullable<Uncommented['fault']>, issue: Report): void {
  const inside = text.slice(fault.start + 1, fault.end);
  const unsure =
    fault.reason === 'nested' ? inside.slice(inside.indexOf(')') + 1) : fault.reason === 'open' ? inside : '';
  const loses = /[A-Za-z]\s*[-+.\d]/.test(unsure);
  const reasons = {
    open: 'the comment is not closed',
    stray: 'a closing parenthesis without a comment',
    nested: 'a comment inside a comment',
  };
  const args = { text: quote(text.slice(fault.start, fault.end)), reason: reasons[fault.reason] };
  issue('unreadable-word', args, fault.start, fault.end, loses);
}

/** What of a statement only a controller can work out: program flow, a value in brackets, a parameter; null for plain words. */
function computed(statement: string, letter: string | undefined): 'o-word' | 'expression' | 'parameter' | null {
  if (letter === 'O') return 'o-word';
  const hash = statement.indexOf('#');
  const bracket = statement.indexOf('[');
  if (hash < 0 && bracket < 0) return null;
  return bracket >= 0 && (hash < 0 || bracket < hash) ? 'expression' : 'parameter';
}

/** The statement with its checksum, where it has one, blanked out; one that is wrong is told. */
function withoutChecksum(text: string, statement: string, bare: string, issue: Report): string {
  const star = /\*\s*(\d+)\s*$/.exec(statement);
  if (!star) return statement;
  if (checksum(text.slice(0, star.index)) !== Number(star[1])) {
    issue('checksum', { text: quote(bare) }, star.index, star.index + star[0].trimEnd().length, true);
  }
  return statement.slice(0, star.index) + ' '.repeat(statement.length - star.index);
}

/** The check of a transmitted line: all its bytes up to the star, exclusive-or'ed. */
function checksum(text: string): number {
  let sum = 0;
  for (const byte of new TextEncoder().encode(text)) sum ^= byte;
  return sum;
}
