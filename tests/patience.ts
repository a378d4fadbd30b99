/**
 * How long something may take by the clock before it is taken for a thing that never ends, ms. By the clock, for a child process or a
 * browser that is waited for takes no processor time of ours; and so with so much room that a busy machine does not run into it.
 */
export const NEVER_ENDING_MS = 20 * 60_000;

/** How long what a page shows may take to become what is expected of it, ms: as long as on the busiest machine. */
export const POLLED_MS = 60_000;

/** Processor time that one test may take, s: several times what the longest takes. A guard against hangs, not a measurement. */
export const LONGEST_TEST_S = 120;
