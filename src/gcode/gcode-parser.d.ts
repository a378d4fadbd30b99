declare module 'gcode-parser' {
  /** What the library makes of one line. Values are strings where `Number()` fails; see `odd-line.ts` for what it drops in silence. */
  export interface ParsedLine {
    line: string;
    words: [letter: string, value: number | string][];
    ln?: number;
    cs?: number;
    err?: boolean;
    cmds?: string[];
    comments?: string[];
  }
  export function parseLine(
    line: string,
    options?: { flatten?: boolean; lineMode?: 'original' | 'stripped' | 'compact' },
  ): ParsedLine;
}
