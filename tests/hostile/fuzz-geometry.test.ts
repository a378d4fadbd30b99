// Drawings and toolpaths that crowd geometry. They stand in a file of their own, so that they are done beside the damaged files.
import fc from 'fast-check';
import { describe } from 'vitest';
import { crowdedDrawing, crowdedToolpath } from './crowded.ts';
import { itSurvives, survives } from './damaged.ts';

const seeds = fc.nat(2 ** 31 - 2);
const bytesOf = (text: string) => new TextEncoder().encode(text);

describe('crowded files, judged without a fault, within their work, with every format valid', () => {
  itSurvives(
    'drawings',
    0.04,
    survives(
      seeds.map((seed) => ({ 'crowded.svg': bytesOf(crowdedDrawing(seed)) })),
      10,
    ),
  );
  itSurvives(
    'toolpaths',
    0.01,
    survives(
      seeds.map((seed) => ({ 'crowded.gcode': bytesOf(crowdedToolpath(seed)) })),
      10,
    ),
  );
});
