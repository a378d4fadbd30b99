/**
 * What a ± stands for, wherever one is written or read: nine in ten lie within it, the 5th to the 95th percentile of a normal
 * distribution. In standard deviations, as docs/model.md says under "Doubt".
 */
export const PLUS_MINUS_SIGMAS = 1.6448536;
