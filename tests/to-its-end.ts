import { Script } from 'node:vm';
import { NEVER_ENDING_MS } from './patience.ts';

const ACT = Symbol.for('kerflint.test.act');
const act = new Script(`globalThis[Symbol.for('kerflint.test.act')]()`);

/**
 * Does what is asked, and throws when it does not come to an end. A limit of the test runner cannot do that: it waits for code that
 * runs without a pause. Node can break off what a script of its own began, so the work is begun by one.
 */
export function toItsEnd<T>(asked: () => T, patienceMs = NEVER_ENDING_MS): T {
  Object.assign(globalThis, { [ACT]: asked });
  return act.runInThisContext({ timeout: patienceMs });
}
