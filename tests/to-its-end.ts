import { Script } from 'node:vm';

/** By the clock, and so with much room for a busy machine: what runs longer would never end. */
const NEVER_ENDING_MS = 120_000;
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
