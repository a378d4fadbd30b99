// One mutant as a change of a file's text.

const NAME = /^(.*?):(\d+):(\d+)-(\d+):(\d+) (\w+) ([\s\S]*)$/;

/** What a mutant's name says: the file, and which part of its text is replaced by what. Lines count from one, columns from nought. */
function readName(name) {
  const found = NAME.exec(name);
  if (found === null) throw new Error(`"${name}" names no mutant`);
  const [, fileName, line, column, endLine, endColumn, kind, replacement] = found;
  return {
    fileName,
    from: [Number(line), Number(column)],
    to: [Number(endLine), Number(endColumn)],
    kind,
    replacement,
  };
}

/** The file that a mutant changes. */
export const fileOf = (name) => readName(name).fileName;

/** A file's text with the mutant in it. */
export function changed(text, name) {
  const { from, to, kind, replacement } = readName(name);
  const starts = [0];
  for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) starts.push(at + 1);
  const offset = ([line, column]) => starts[line - 1] + column;
  const [begin, end] = [offset(from), offset(to)];
  // An expression is kept together whatever stands around it; a block, a loop and a case of a switch are none.
  const isStatement = kind === 'BlockStatement' || /^(?:for|while|do|case|default)\b/.test(text.slice(begin, end));
  return text.slice(0, begin) + (isStatement ? replacement : `(${replacement})`) + text.slice(end);
}
