/** The share of all that were noticed lies between these two 19 times out of 20, when `killed` of `tried` were. */
export function interval(killed: number, tried: number): [low: number, high: number];
