import type { AddCommand } from '../command.ts';
import { calibrate } from './calibrate.ts';
import { check } from './check.ts';
import { config } from './config.ts';
import { coupon } from './coupon.ts';
import { diagnose } from './diagnose.ts';
import { evidence } from './evidence.ts';
import { explain } from './explain.ts';
import { fix } from './fix.ts';
import { init } from './init.ts';
import { join } from './join.ts';
import { page } from './page.ts';
import { ramp } from './ramp.ts';
import { reach } from './reach.ts';
import { recipe } from './recipe.ts';
import { rules } from './rules.ts';
import { schema } from './schema.ts';

/** All commands by name, in the order in which help lists them. A new one is a file beside this one and a line here. */
export const commands: Readonly<Record<string, AddCommand>> = {
  check,
  fix,
  init,
  recipe,
  reach,
  evidence,
  coupon,
  ramp,
  calibrate,
  diagnose,
  join,
  explain,
  rules,
  config,
  schema,
  page,
};
