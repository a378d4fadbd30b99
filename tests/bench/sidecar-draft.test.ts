import { describe, expect, it } from 'vitest';
import { sidecarDraft } from '../../src/bench/sidecar/sidecar-draft.ts';
import { readDrawing } from '../../src/bench/sidecar/sidecar-files.ts';
import { readSidecar } from '../../src/job/sidecar/sidecar.ts';
import { textSource } from '../../src/source/source.ts';
import { readers } from '../memory-shop.ts';

function draftOf(body: string): string {
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm" viewBox="0 0 90 90" fill="none">${body}</svg>`;
  return sidecarDraft({
    toolpath: null,
    artwork: { file: 'a.svg', drawing: readDrawing(textSource('a.svg', svg), readers, null) },
    machine: 'shed-60w',
    lens: null,
    material: null,
    thickness: '3 mm',
    schemas: null,
  });
}

const read = (draft: string) => {
  const filled = draft.replaceAll(/power: .*/g, 'power: 80 %').replaceAll(/speed: .*/g, 'speed: 9 mm/s');
  const { value, problems } = readSidecar(textSource('a.job.yaml', filled));
  expect(problems).toEqual([]);
  return value!;
};

describe('a drafted sidecar', () => {
  it('tells strokes apart by colour, the longest first', () => {
    const { tasks } = read(
      draftOf('<g id="x"><path d="M1 1h10" stroke="#9c36b5"/></g><g id="y"><path d="M1 2h50" stroke="#0b7285"/></g>'),
    );
    expect(tasks.map((task) => task.strokes)).toEqual([{ stroke: '#0b7285' }, { stroke: '#9c36b5' }]);
  });

  it('tells them apart by layer where one colour has them all', () => {
    const { tasks } = read(
      draftOf(
        '<g stroke="#9c36b5"><g id="drain: holes"><path d="M1 1h10"/></g><g id="rim"><path d="M1 2h50"/></g></g>',
      ),
    );
    expect(tasks.map((task) => [task.name, task.strokes])).toEqual([
      ['rim', { layer: 'rim' }],
      ['drain: holes', { layer: 'drain: holes' }],
    ]);
  });

  it('never guesses the material', () => {
    expect(read(draftOf('<path d="M1 1h10" stroke="#9c36b5"/>')).material).toBe('unknown');
  });
});
