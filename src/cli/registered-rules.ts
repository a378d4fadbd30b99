import { READERS } from '../readers.ts';
import { rulesFor } from '../rules/index.ts';

/** All rules, with the messages that the readers bring. */
export const RULES = rulesFor(READERS);
