import picomatch from 'picomatch';

/** Whether a path (relative to the root, with `/`) is left out. */
export type Excluded = (path: string) => boolean;

/**
 * Patterns of the settings as one test. `old` and `old/` mean the folder and all in it; `*` stays within a folder, `**` crosses them;
 * hidden files fit too.
 */
export function excludedBy(patterns: readonly string[]): Excluded {
  if (patterns.length === 0) return () => false;
  const globs = patterns.flatMap((pattern) => {
    const bare = pattern.replace(/\/+$/, '');
    return [bare, `${bare}/**`];
  });
  const fits = picomatch(globs, { dot: true, nonegate: true });
  return (path) => fits(path);
}
