import type { AddCommand } from '../command.ts';
import { check } from './check.ts';
import { config } from './config.ts';
import { explain } from './explain.ts';
import { init } from './init.ts';
import { join } from './join.ts';
import { rules } from './rules.ts';
import { schema } from './schema.ts';

/** All commands, in the order in which help lists them. A new one is a file beside this one and a line here. */
export const commands: readonly AddCommand[] = [check, join, explain, rules, init, config, schema];
