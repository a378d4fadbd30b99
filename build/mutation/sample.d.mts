/** As many of the names as are asked for, drawn by the seed. */
export function draw(names: readonly string[], count: number, seed: string): string[];
