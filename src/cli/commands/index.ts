import type { Command } from 'commander';
import type { Io } from '../io.ts';
import { check } from './check.ts';
import { config } from './config.ts';
import { explain } from './explain.ts';
import { init } from './init.ts';
import { rules } from './rules.ts';
import { schema } from './schema.ts';

/**
 * Adds one command to the program and gives it back. What it needs for its work is imported when it runs, so that no
 * command pays for another; `exit` sets the exit code.
 */
export type AddCommand = (program: Command, io: Io, exit: (code: number) => void) => Command;

/** All commands, in the order in which help lists them. A new one is a file beside this one and a line here. */
export const commands: readonly AddCommand[] = [check, explain, rules, init, config, schema];
