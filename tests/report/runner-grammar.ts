/** One command as a runner takes it from a log. */
export interface RunnerCommand {
  command: string;
  properties: Record<string, string>;
  data: string;
}

const COMMANDS = new Set(['error', 'warning', 'notice', 'debug', 'add-mask', 'set-output', 'stop-commands', 'group']);

/**
 * Reads a log by the grammar of the runner, written from its description and independently of our writer: actions/runner,
 * src/Runner.Common/ActionCommand.cs. A line is a command when it begins with `::` after blanks, or when it holds `##[` of
 * the older form anywhere.
 */
export function readCommands(log: string): RunnerCommand[] {
  return log.split(/\r\n|\n|\r/).flatMap((line) => newForm(line) ?? oldForm(line) ?? []);
}

function newForm(line: string): RunnerCommand | null {
  const trimmed = line.trimStart();
  if (!trimmed.startsWith('::')) return null;
  const end = trimmed.indexOf('::', 2);
  if (end < 0) return null;
  const [name = '', list] = parted(trimmed.slice(2, end), ' ');
  if (!COMMANDS.has(name.toLowerCase())) return null;
  const properties: Record<string, string> = {};
  for (const pair of (list ?? '').trim().split(',')) {
    const [key = '', value] = parted(pair, '=');
    if (value !== undefined && value !== '') {
      properties[key] = value
        .replaceAll('%0D', '\r')
        .replaceAll('%0A', '\n')
        .replaceAll('%3A', ':')
        .replaceAll('%2C', ',')
        .replaceAll('%25', '%');
    }
  }
  const data = trimmed
    .slice(end + 2)
    .replaceAll('%0D', '\r')
    .replaceAll('%0A', '\n')
    .replaceAll('%25', '%');
  return { command: name.toLowerCase(), properties, data };
}

function oldForm(line: string): RunnerCommand | null {
  const [, name = '', data = ''] = /##\[([^\]\s]+)[^\]]*\](.*)/.exec(line) ?? [];
  return COMMANDS.has(name.toLowerCase()) ? { command: name.toLowerCase(), properties: {}, data } : null;
}

function parted(text: string, at: string): [string, string?] {
  const i = text.indexOf(at);
  return i < 0 ? [text] : [text.slice(0, i), text.slice(i + at.length)];
}
