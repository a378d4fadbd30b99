import { describe, expect, it } from 'vitest';
import { type Files, run, shed } from '../../memory-shop.ts';

/** That an answer is owed for whatever may part the sheet is our own promise (SECURITY.md); no source outside. */
const TIP = '<marker id="tip" markerWidth="2" markerHeight="2"><path d="M0 0L2 1L0 2"/></marker>';

const drawing = (inside: string): Files => ({
  'label.svg': `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">
${TIP}<g fill="none" stroke="#1864ab"><rect x="10" y="10" width="80" height="30"/></g>
${inside}</svg>`,
});

const OUTLINE = 'aim: through, power: 80 %, speed: 10 mm/s, air: 1 bar';

function incomplete(tasks: string[], inside: string, toolpath = false): string[] {
  const files: Files = {
    ...shed(),
    ...drawing(inside),
    ...(toolpath
      ? { 'label.gcode': 'G21 G90\nM8\nM4 S800 F600\nG0 X10 Y60\nG1 X90\nG1 Y90\nG1 X10\nG1 Y60\nM5\nM9\nM2\n' }
      : {}),
    'label.job.yaml': `kerflint: 1
machine: shed-60w
lens: 2in
material: birch-plywood
thickness: 3 mm ± 0.1 mm
zero: machine
${toolpath ? 'toolpath: label.gcode\n' : ''}artwork: label.svg
tasks:
${tasks.map((task) => `  - { ${task} }\n`).join('')}`,
  };
  const { jobs } = run(files);
  const reasons = jobs[0]!.incomplete;
  expect(jobs[0]!.verdict === 'incomplete').toBe(reasons.length > 0);
  return reasons;
}

const ALL = [`name: labels, ${OUTLINE}`];
const BLUE = [`name: labels, strokes: { stroke: "#1864ab" }, ${OUTLINE}`];

describe('what was left out of the artwork', () => {
  it.each([
    ['text', '<text y="60">Beans</text>', '1 piece of live text'],
    ['markers', '<path d="M9 60H90" stroke="none" fill="none" marker-end="url(#tip)"/>', '1 line with markers'],
    ['an embedded document', '<foreignObject width="9" height="9"/>', '1 embedded document'],
    [
      'a reference out of the file',
      '<use href="holes.svg#a"/><use href="holes.svg#b"/>',
      '2 references to other files',
    ],
    ['what is hidden', '<rect y="60" width="9" height="9" display="none"/>', '1 hidden or clipped shape'],
  ])('is an open question where a task that parts the sheet takes all: %s', (_, inside, words) => {
    expect(incomplete(ALL, inside).join('\n')).toContain(`${words} would be cut with the task "labels" and w`);
  });

  it('says where it stands and what to do', () => {
    expect(incomplete(ALL, '<text y="60">Beans</text>\n<text y="70">Thyme</text>')).toEqual([
      '2 pieces of live text would be cut with the task "labels" and were not judged (line 3 of label.svg)',
    ]);
  });

  it('is no matter where the task selects other strokes', () => {
    expect(incomplete(BLUE, '<text y="60">Beans</text><rect width="9" height="9" display="none"/>')).toEqual([]);
  });

  it('counts as selected by a stroke of its own, hidden or not', () => {
    expect(incomplete(BLUE, '<g stroke="#1864AB"><text y="60">Beans</text></g>')).toHaveLength(1);
    expect(incomplete(BLUE, '<g display="none" stroke="#1864AB"><path d="M0 0H9"/></g>')).toHaveLength(1);
  });

  it('is no matter where the task that takes it does not part the sheet', () => {
    const groove = 'name: names, aim: groove, strokes: { id: names }, power: 20 %, speed: 40 mm/s';
    expect(incomplete([groove, ...ALL], '<g id="names"><text y="60">Beans</text></g>')).toEqual([]);
    expect(incomplete(['name: names, aim: surface, power: 20 %, speed: 40 mm/s'], '<text y="60">Beans</text>')).toEqual(
      [],
    );
  });

  it('is no matter where it is an image of pixels', () => {
    expect(incomplete(ALL, '<image width="9" height="9" href="leaf.png"/>')).toEqual([]);
  });

  it('is settled by a toolpath if it is hidden, and not if it is drawn', () => {
    expect(incomplete(ALL, '<rect y="60" width="9" height="9" display="none"/>', true)).toEqual([]);
    expect(incomplete(ALL, '<text y="60">Beans</text>', true)).toHaveLength(1);
  });

  it('counts in bare artwork, where everything drawn is meant to part the sheet', () => {
    const files = { ...shed(), ...drawing('<text y="60">Beans</text>') };
    const { jobs } = run(files, { machine: 'shed-60w', material: 'birch-plywood', thickness: '3 mm' });
    expect(jobs[0]!.incomplete).toEqual([
      '1 piece of live text would be cut with all strokes and was not judged (line 3 of label.svg)',
    ]);
  });
});
