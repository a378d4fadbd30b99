// Set up for all tests: each is held to a limit of processor time, so that what else the machine does has no say.
import { afterEach, beforeEach } from 'vitest';
import { LONGEST_TEST_S, NEVER_ENDING_MS } from './patience.ts';

let before = process.cpuUsage();

beforeEach(() => {
  before = process.cpuUsage();
});

afterEach(({ task }) => {
  const { user, system } = process.cpuUsage(before);
  const tookS = (user + system) / 1e6;
  // A test that states more time than any other has limits of its own inside, as those with random damage have.
  if (task.timeout > NEVER_ENDING_MS || tookS <= LONGEST_TEST_S) return;
  throw new Error(
    `took ${tookS.toFixed(0)} s of processor time, more than the ${LONGEST_TEST_S} s that a test may take`,
  );
});
