import { readToolpath } from '../../src/gcode/read.ts';
import type { ToolpathOptions } from '../../src/model/reader.ts';
import type { Toolpath } from '../../src/model/toolpath.ts';
import { textSource } from '../../src/source/source.ts';

/** A machine like any other; tests change what they are about. */
export const OPTIONS: ToolpathOptions = {
  power: { word: 'S', full: 1000 },
  m4: 'scaled-with-speed',
  arcToleranceMm: 0.05,
  rapidMmPerS: 600,
  speedMmPerS: 500,
  accelerationMmPerS2: 3000,
  cornerDeviationMm: 0.02,
  airDelayS: 0.5,
  spotMm: 0.15,
  harmless: new Set(),
  blockDelete: null,
};

/** Reads lines of a program. */
export function read(program: string | string[], options: Partial<ToolpathOptions> = {}): Toolpath {
  const text = typeof program === 'string' ? program : program.join('\n');
  return readToolpath(textSource('test.gcode', text), { ...OPTIONS, ...options });
}

/** Codes of the problems, in order. */
export function codes(toolpath: Toolpath): string[] {
  return toolpath.problems.map((problem) => problem.code);
}

/** Ends of the strokes, x and y. */
export function ends(toolpath: Toolpath): [number, number][] {
  return Array.from(toolpath.strokes.endX, (x, i) => [x, toolpath.strokes.endY[i]!]);
}
