/** A command as a document shows it. */
export interface Documented {
  line: number;
  /** What a reader pastes into a terminal. */
  text: string;
  /** The exit code that the document states; 0 where it states none. */
  exits: number;
  /** Why it is not run, as the document says; null where it is. */
  notRun: string | null;
}

/** A command line of kerflint, as it stands or as CI and a fresh checkout start it. */
const COMMAND = /^(?:npm ci && node dist\/kerflint\.js|(?:\S.* (?:\||&&) |- run: )?(?:npx )?kerflint) \S/;
const MARK = /<!-- (?:not run: ([^>]+?)|exits (\d)(?:: [^>]+?)?) -->/;

/**
 * Reads the commands out of a document in Markdown: code in sentences and tables, and lines of code blocks. What a program printed
 * (blocks of `text`) is none. A remark `<!-- not run: why -->` or `<!-- exits 1: why -->` stands right behind a command in a sentence, or on
 * the line above a block; in a block, `# exits 1` behind a command says the same.
 */
export function documentedCommands(markdown: string): Documented[] {
  const found: Documented[] = [];
  const prose: string[] = [];
  let block: { indent: string; info: string; mark: string } | null = null;
  const lines = markdown.split('\n');
  lines.forEach((line, i) => {
    const fence = /^(\s*)```(\w*)/.exec(line);
    const indented = block === null && fence === null && /^ {4,}\S/.test(line) && followsBlank(lines, i);
    prose.push(block === null && fence === null && !indented ? line : '');
    if (fence !== null) {
      block = block === null ? { indent: fence[1]!, info: fence[2]!, mark: ownLine(lines[i - 1]) } : null;
    } else if (indented || (block !== null && block.info !== 'text')) {
      const text = line.trim();
      const mark = block === null ? aboveBlock(lines, i) : block.mark;
      if (COMMAND.test(text)) found.push({ line: i + 1, ...told(text, mark) });
    }
  });
  const whole = prose.join('\n');
  for (const code of whole.matchAll(/`([^`]+)`(\s*<!-- [^>]+ -->)?/g)) {
    const text = code[1]!.replaceAll(/\s*\n\s*/g, ' ');
    if (!COMMAND.test(text)) continue;
    found.push({ line: whole.slice(0, code.index).split('\n').length, ...told(text, code[2] ?? '') });
  }
  return found.sort((a, b) => a.line - b.line);
}

/** An indented line is code only behind a blank line, or behind code. */
function followsBlank(lines: readonly string[], i: number): boolean {
  for (let at = i - 1; at >= 0; at--) {
    if (lines[at]!.trim() === '') return true;
    if (!lines[at]!.startsWith('    ')) return false;
  }
  return true;
}

function aboveBlock(lines: readonly string[], i: number): string {
  let at = i - 1;
  while (at > 0 && (lines[at]!.startsWith('    ') || lines[at]!.trim() === '')) at--;
  return ownLine(lines[at]);
}

/** A remark on a block has its line to itself. */
const ownLine = (line = ''): string => (/^\s*<!-- .* -->$/.test(line) ? line : '');

function told(text: string, mark: string): Omit<Documented, 'line'> {
  const [, notRun = null, exits] = MARK.exec(mark) ?? [];
  const [, remarked] = /\s# .*\bexits (\d)/.exec(text) ?? [];
  const start = /^(?:npm ci && |- run: )?(?:npx )?/;
  return {
    text: text.replace(start, '').replace(/^node dist\/kerflint\.js/, 'kerflint'),
    exits: Number(remarked ?? exits ?? 0),
    notRun,
  };
}

/** `kerflint reach` in a sentence names a command and is none to paste. */
export function namesOnly(text: string): string | null {
  return /^kerflint ([a-z-]+)$/.exec(text)?.[1] ?? null;
}
