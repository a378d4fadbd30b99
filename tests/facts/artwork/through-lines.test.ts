import { describe, expect, it } from 'vitest';
import { artworkGeometry } from '../../../src/facts/artwork/artwork-geometry.ts';
import { throughLines } from '../../../src/facts/artwork/through-lines.ts';
import { workFor } from '../../../src/units/work.ts';
import { artwork, facts, sidecar, task } from '../../rules/build-facts.ts';
import { drawn, path, rect } from './drawn.ts';

describe('the lines that part the sheet', () => {
  const drawing = drawn(
    rect(10, 10, 150, 80),
    rect(20, 20, 30, 30),
    rect(20, 20, 30, 30),
    rect(60, 20, 30, 30),
  ).artwork;

  it('are those of all tasks with that aim, in the order in which they are drawn', () => {
    const through = throughLines(drawing, 'gate.svg', [
      { aim: 'through', outlines: Uint32Array.of(1, 3) },
      { aim: 'groove', outlines: Uint32Array.of(2) },
      { aim: 'through', outlines: Uint32Array.of(0) },
    ]);
    expect(through.numbers).toEqual([0, 1, 3]);
    expect(through.lines).toEqual([0, 1, 3].map((i) => drawing.outlines[i]));
    expect([...through.nesting.depth]).toEqual([0, 1, 1]);
  });

  it('know which of them are drawn again and where each is drawn', () => {
    const through = throughLines(drawing, 'shed/gate.svg', [
      { aim: 'through', outlines: Uint32Array.of(0, 1, 2, 3) },
      { aim: 'surface', outlines: new Uint32Array(0) },
    ]);
    expect(through.equal.members).toEqual([[0], [1, 2], [3]]);
    expect([0, 1, 2, 3].map((i) => through.locationOf(i).line)).toEqual([2, 3, 4, 5]);
    expect(through.locationOf(3)).toMatchObject({ file: 'shed/gate.svg', ...drawing.elements[3]!.place });
  });
});

describe('what artwork says of its parts', () => {
  const base = facts();
  const asked = {
    job: base.input,
    tasks: [task()],
    kerfMm: 0.3,
    thicknessMm: 3,
    sidecar: sidecar({ sheet: null }),
    toolpath: null,
    match: null,
    work: workFor(0),
  };

  it('is nothing without artwork', () => {
    expect(artworkGeometry({ ...asked, artwork: null })).toBeNull();
  });

  it('is held against a kerf that is handed on, and told of the artwork’s file', () => {
    const drawing = drawn(path('M10 10 H40 V50')).artwork;
    const found = artworkGeometry({ ...asked, artwork: drawing })!;
    expect(found.kerfMm).toBe(0.3);
    expect(found.open.map(({ location }) => location.file)).toEqual(['coaster.svg']);
    const bare = { ...base.input, files: { ...base.input.files, artwork: null } };
    const unnamed = artworkGeometry({ ...asked, job: bare, artwork: drawing })!;
    expect(unnamed.open.map(({ location }) => location.file)).toEqual(['coaster.job.yaml']);
  });

  it('has strays: outlines of less than half a millimetre, with length and place', () => {
    const drawing = drawn(path('M10 10 h0.49'), path('M20 10 h0.51')).artwork;
    const two = [task({ outlines: Uint32Array.of(0, 1) })];
    const { strays } = artworkGeometry({ ...asked, tasks: two, artwork: drawing })!;
    expect(strays).toMatchObject([{ location: { line: 2 } }]);
    expect(strays[0]!.lengthMm).toBeCloseTo(0.49, 6);
    expect(artworkGeometry({ ...asked, artwork: artwork() })!.strays).toEqual([]);
  });
});
