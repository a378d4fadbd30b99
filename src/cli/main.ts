import { Command, CommanderError } from 'commander';
import { commands } from './commands/index.ts';
import { EXIT, EXIT_HELP } from './exit-codes.ts';
import { packageVersion } from './files/package-files.ts';
import type { Io } from './terminal/io.ts';
import { UsageError } from './usage-error.ts';

// The launcher takes both from one program.
export { outputsOf } from './files/output-to.ts';

/**
 * The whole command line as a function: arguments and streams in, exit code out. Never ends the process, never throws:
 * what goes wrong inside is told on stderr.
 */
export async function main(io: Io): Promise<number> {
  for (const stream of [io.stdout, io.stderr]) stream.on?.('error', ignoreClosedPipe);
  let code: number = EXIT.fine;
  try {
    await program(io, (exit) => {
      code = exit;
    }).parseAsync([...io.argv], { from: 'user' });
    return code;
  } catch (error) {
    return explained(error, io);
  }
}

function program(io: Io, exit: (code: number) => void): Command {
  const root = new Command('kerflint')
    .description(
      'Preflight linter for laser-cutting jobs: says before any material is spent what will not go through, what will burn and what is unsafe.',
    )
    .version(packageVersion(), '-V, --version', 'print the version')
    .helpOption('-h, --help', 'print this help')
    .addHelpText('after', `\n${EXIT_HELP}`)
    .showSuggestionAfterError(true)
    .showHelpAfterError(false)
    .enablePositionalOptions();
  quietly(root, io);
  // One command needs no other, and making them all takes time.
  const [first = ''] = io.argv;
  const named = Object.hasOwn(commands, first) ? [commands[first]!] : Object.values(commands);
  for (const add of named) quietly(add(root, io, exit), io);
  return root;
}

/** Commander's own messages go to our streams, and it never ends the process. */
function quietly(command: Command, io: Io): void {
  command.exitOverride();
  command.configureOutput({
    writeOut: (text) => io.stdout.write(text),
    writeErr: () => undefined,
    getOutHelpWidth: () => io.stdout.columns ?? 100,
    getOutHasColors: () => false,
    getErrHasColors: () => false,
  });
}

function explained(error: unknown, io: Io): number {
  if (error instanceof CommanderError) {
    if (error.exitCode === 0) return EXIT.fine;
    if (error.code === 'commander.help') {
      io.stderr.write('kerflint: no command was given.\n');
      io.stderr.write('Run "kerflint --help" for what there is, or "kerflint check <paths…>" for the main job.\n');
      return EXIT.usage;
    }
    io.stderr.write(`kerflint: ${error.message.replace(/^error: /, '').replace(/\n\(Did/, ' (did')}\n`);
    io.stderr.write('Run "kerflint --help", or "kerflint <command> --help", for what there is.\n');
    return EXIT.usage;
  }
  if (error instanceof UsageError) {
    io.stderr.write(`kerflint: ${error.message}\n${error.wayOut}\n`);
    return EXIT.usage;
  }
  const stack = error instanceof Error ? (error.stack ?? error.message) : String(error);
  io.stderr.write(`kerflint ${packageVersion()} failed; this is a fault of kerflint, not of your files:\n${stack}\n`);
  io.stderr.write('Nothing was judged. Please report it with the text above and, if you may, the file.\n');
  return EXIT.incomplete;
}

/** `kerflint … | head` closes the pipe early: not an error. */
function ignoreClosedPipe(error: Error & { code?: string }): void {
  if (error.code !== 'EPIPE') throw error;
}
