import { describe, expect, it } from 'vitest';
import { damaged, itSurvives } from './damaged.ts';
import { seeds } from './mutations.ts';

const TOOLPATH = /\.(gcode|nc|ngc)$/;

describe('damaged toolpaths, judged without a fault, in time, with every place inside its file and every format valid', () => {
  it('begin with files', () => {
    expect(seeds(TOOLPATH).length).toBeGreaterThan(5);
  });

  itSurvives(
    'toolpaths',
    0.15,
    damaged('gcode', TOOLPATH, (bytes) => ({ 'odd.gcode': bytes })),
  );
});
