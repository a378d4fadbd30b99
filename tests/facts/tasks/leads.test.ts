import { describe, expect, it } from 'vitest';
import { type Files, factsOf, shed } from '../../memory-shop.ts';

/** A job whose tasks are told apart by tool, so that a lead under another tool belongs to none. */
function strokesOf(program: string): string[] {
  const files: Files = {
    ...shed(),
    'part.job.yaml': `kerflint: 1
machine: shed-60w
lens: 2in
material: birch-plywood
thickness: 3 mm
zero: machine
toolpath: part.gcode
tasks:
  - { name: rim, aim: through, program: { feed: 10 mm/s } }
  - { name: fold, aim: groove, program: { feed: 50 mm/s } }
`,
    'part.gcode': `G21 G90\nM8\nM4 S800\n${program}\nM5\nM9\nM2\n`,
  };
  const { tasks } = factsOf(files);
  const names: string[] = [];
  for (const task of tasks) for (const stroke of task.strokes) names[stroke] = task.name;
  return names;
}

describe('a short line that no task claims', () => {
  it('belongs to the line that it leads into', () => {
    expect(strokesOf('G0 X0 Y0\nG1 X2 F900\nG1 X50 F600')).toEqual(['rim', 'rim']);
  });

  it('or else to the one that it comes out of', () => {
    expect(strokesOf('G0 X0 Y0\nG1 X50 F600\nG1 X52 F900')).toEqual(['rim', 'rim']);
  });

  it('rather into than out of: it is burnt on the way to what follows', () => {
    expect(strokesOf('G0 X0 Y0\nG1 X50 F3000\nG1 X52 F900\nG1 X90 F600')).toEqual(['fold', 'rim', 'rim']);
  });

  it('stays unclaimed where the beam was off between, or where it is no short one', () => {
    expect(strokesOf('G0 X0 Y0\nG1 X2 F900\nG0 X3\nG1 X50 F600')).toEqual(['unclaimed strokes', 'rim']);
    expect(strokesOf('G0 X0 Y0\nG1 X20 F900\nG1 X50 F600')).toEqual(['unclaimed strokes', 'rim']);
    expect(strokesOf('G0 X0 Y0\nG1 X3 F900\nG1 X6\nG1 X50 F600')).toEqual([
      'unclaimed strokes',
      'unclaimed strokes',
      'rim',
    ]);
  });
});
