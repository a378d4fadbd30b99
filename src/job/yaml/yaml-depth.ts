import { Lexer } from 'yaml';

export const TOO_DEEP = 'the file is nested too deeply to be read';

/** More brackets within brackets than any format of ours has. */
const DEEPEST_BRACKETS = 24;
/** A block needs at least one column more than the block around it, so this bounds their depth too. */
const WIDEST_INDENT = 240;

const OPEN_BRACKET = 0x5b;
const OPEN_BRACE = 0x7b;
const LINE_FEED = 0x0a;

/** Tokens of the lexer that stand for something and are not in the text: byte-order mark, document start, end of flow, scalar. */
const MARKS = new Set(['\ufeff', '\u0002', '\u0018', '\u001f']);

/**
 * Where a text nests deeper than the parser should follow; null when it does not. The parser recurses, and although it
 * catches an exhausted stack, a regular expression that is compiled there ends the whole process. The lexer does not recurse
 * and knows quotes and comments, so no bracket is counted that is not one.
 */
export function tooDeepAt(text: string): number | null {
  return mayBeDeep(text) ? deepAt(text) : null;
}

/** Whether it has as many brackets, or as long a line, as nesting too deeply takes: few files do, and counting is quick. */
function mayBeDeep(text: string): boolean {
  let brackets = 0;
  let lineStart = 0;
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === OPEN_BRACKET || code === OPEN_BRACE) brackets++;
    else if (code === LINE_FEED) lineStart = at + 1;
    if (brackets > DEEPEST_BRACKETS || at - lineStart > WIDEST_INDENT) return true;
  }
  return false;
}

function deepAt(text: string): number | null {
  let offset = 0;
  let lineStart = 0;
  let brackets = 0;
  let scalarNext = false;
  for (const token of new Lexer().lex(text)) {
    if (MARKS.has(token)) {
      scalarNext = token === '\u001f';
      continue;
    }
    if (!scalarNext) {
      brackets = Math.max(0, brackets + bracketOf(token));
      if (brackets > DEEPEST_BRACKETS) return offset;
      if (brackets === 0 && /^[-?:]$/.test(token) && offset - lineStart > WIDEST_INDENT) return offset;
    }
    scalarNext = false;
    offset += token.length;
    const lineEnd = token.lastIndexOf('\n');
    if (lineEnd >= 0) lineStart = offset - token.length + lineEnd + 1;
  }
  return null;
}

/** 1 for a token that opens a bracket, -1 for one that closes it. */
function bracketOf(token: string): -1 | 0 | 1 {
  if (token === '[' || token === '{') return 1;
  return token === ']' || token === '}' ? -1 : 0;
}
