import type { Command } from 'commander';
import type { Io } from './terminal/io.ts';

/**
 * Adds one command to the program and gives it back. What it needs for its work is imported when it runs, so that no
 * command pays for another; `exit` sets the exit code.
 */
export type AddCommand = (program: Command, io: Io, exit: (code: number) => void) => Command;
