/** Bundles the action into one file. */
export function buildAction(outfile: string): Promise<void>;
/** Bundles the core for a browser; fails when anything in it still needs Node. */
export function buildCore(outfile: string): Promise<void>;
/** Bundles all that is shipped into dist/. */
export function buildAll(): Promise<void>;
