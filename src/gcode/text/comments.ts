/** A line with its comments blanked out, so that offsets still hold. */
export interface Uncommented {
  /** The line, each comment replaced by as many spaces. */
  code: string;
  /** Text of the last comment; null when there is none. */
  comment: string | null;
  fault: { reason: 'open' | 'stray' | 'nested'; start: number; end: number } | null;
}

/**
 * Takes both kinds of comment out of a line: `( … )` and `; …` to the end. A `;` inside parentheses is text, as in RS274.
 * Parentheses inside parentheses are no comment of RS274 and controllers differ on where such a one ends: it is read to
 * the matching parenthesis and reported.
 */
export function withoutComments(line: string): Uncommented {
  if (!line.includes('(') && !line.includes(';') && !line.includes(')'))
    return { code: line, comment: null, fault: null };
  let code = '';
  let comment: string | null = null;
  let fault: Uncommented['fault'] = null;
  let depth = 0;
  let opened = 0;
  let nested = false;
  for (let i = 0; i < line.length; i++) {
    const c = line[i]!;
    if (depth === 0 && c === ';') {
      comment = line.slice(i + 1).trim();
      code += ' '.repeat(line.length - i);
      break;
    }
    if (c === '(') {
      if (depth === 0) opened = i;
      else nested = true;
      depth++;
    } else if (c === ')') {
      if (depth === 0) {
        fault ??= { reason: 'stray', start: i, end: i + 1 };
      } else if (--depth === 0) {
        comment = line.slice(opened + 1, i).trim();
        if (nested) fault ??= { reason: 'nested', start: opened, end: i + 1 };
        nested = false;
      }
      code += ' ';
      continue;
    }
    code += depth > 0 ? ' ' : c;
  }
  if (depth > 0) {
    comment = line.slice(opened + 1).trim();
    fault ??= { reason: 'open', start: opened, end: line.length };
  }
  return { code, comment, fault };
}
