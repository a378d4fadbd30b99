// A task of which the program has nothing is told with the reason, and what is held against what.
import { describe, expect, it } from 'vitest';
import { type Files, factsOf, shed } from '../../memory-shop.ts';
import { OUTLINE } from '../outline.ts';

const CUT = 'G0 X10 Y25\nG1 X30\nG1 Y40\nG1 X10\nG1 Y25\n';
/** Twenty lines of 20 mm side by side, a tenth of a millimetre apart: a raster area. */
const raster = (y: number) =>
  Array.from({ length: 20 }, (_, i) =>
    i % 2 === 0 ? `G0 X50 Y${(y + i / 10).toFixed(1)}\nG1 X70\n` : `G0 X70 Y${(y + i / 10).toFixed(1)}\nG1 X50\n`,
  ).join('');
const files = (tasks: string, gcode = CUT, artwork = 'artwork: part.svg\n'): Files => ({
  ...shed(),
  'part.job.yaml': `kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 3 mm\nzero: machine\ntoolpath: part.gcode\n${artwork}${tasks}`,
  'part.svg': OUTLINE.replace(
    '</svg>',
    '<path id="sign" d="M50 5H70V15H50Z" fill="none" stroke="#e8590c"/><path id="rule" d="M50 50H90" fill="none" stroke="#2b8a3e"/></svg>',
  ),
  'part.gcode': `G21 G90\nM4 S600 F720\n${gcode}M5\nM2\n`,
});
const RIM = '  - { name: rim, aim: through, strokes: { stroke: "#9c36b5" } }\n';
const unmatched = (tasks: string, gcode?: string) =>
  factsOf(files(`tasks:\n${RIM}${tasks}`, gcode)).match!.unmatchedTasks.map(({ task, aim, reason, location }) => [
    task,
    aim,
    reason,
    location.line,
  ]);

describe('a task of which the program has nothing', () => {
  it('is one of lines whose outlines are not in it', () => {
    expect(unmatched('  - { name: rule, aim: groove, strokes: { stroke: "#2b8a3e" } }\n')).toEqual([
      ['rule', 'groove', 'none of its outlines were found in the toolpath', 11],
    ]);
  });

  it('is a surface where the program has no raster area, or has several', () => {
    const sign = '  - { name: sign, aim: surface, strokes: { stroke: "#e8590c" } }\n';
    expect(unmatched(sign)).toEqual([['sign', 'surface', 'the toolpath has no raster area', 11]]);
    const rule = '  - { name: rule, aim: surface, strokes: { stroke: "#2b8a3e" } }\n';
    const reason = 'the raster areas could not be told apart: say which with `program`';
    expect(unmatched(sign + rule, CUT + raster(45))).toEqual([
      ['sign', 'surface', reason, 11],
      ['rule', 'surface', reason, 12],
    ]);
  });

  it('is none that has strokes or an area', () => {
    expect(unmatched('')).toEqual([]);
    const sign = '  - { name: sign, aim: surface, strokes: { stroke: "#e8590c" }, program: { comment: sign } }\n';
    expect(unmatched(sign, `${CUT};sign\n${raster(45)}`)).toEqual([]);
  });
});

describe('what a program is held against', () => {
  it('is the artwork, the plan, or both', () => {
    const plan = '  - { name: rim, aim: through, speed: 5 mm/s }\n';
    const both = factsOf(files(`tasks:\n${RIM}`)).match!;
    // The outlines of 70, 60 and 40 mm are drawn, and the first is cut.
    expect(both.artworkLengthMm).toBeCloseTo(170, 6);
    expect([both.toolpathLengthMm, both.coveredArtworkMm, both.coveredToolpathMm].map(Math.round)).toEqual([
      70, 70, 70,
    ]);
    const planAlone = factsOf(files(`tasks:\n${plan}`, CUT, '')).match!;
    expect(planAlone).toMatchObject({ placement: null, scaleCause: null, artworkLengthMm: 0, toolpathLengthMm: 70 });
    expect(planAlone).toMatchObject({ coveredArtworkMm: 0, coveredToolpathMm: 0, placementEndedEarly: null });
    expect(planAlone.settings.map(({ what }) => what)).toEqual(['speed']);
    expect(factsOf(files('')).match).toMatchObject({ settings: [], unmatchedTasks: [] });
  });

  it('is nothing where there is neither, or no program', () => {
    expect(factsOf(files('', CUT, '')).match).toBeNull();
    const { 'part.gcode': _none, ...drawn } = files(`tasks:\n${RIM}`);
    const sidecar = String(drawn['part.job.yaml']).replace('toolpath: part.gcode\n', '');
    expect(factsOf({ ...drawn, 'part.job.yaml': sidecar }).match).toBeNull();
  });

  it('is told with how the artwork lies on it', () => {
    const { placement } = factsOf(
      files(`tasks:\n${RIM}`, CUT + 'G0 X50 Y45\nG1 X70\nG1 Y55\nG1 X50\nG1 Y45\nG0 X50 Y10\nG1 X90\n'),
    ).match!;
    // The drawing is 60 mm high and its Y points down.
    expect(placement).toMatchObject({ quarterTurns: 0, mirrored: false });
    expect([placement!.scale, placement!.dxMm, placement!.dyMm, placement!.offsetMm]).toEqual([
      expect.closeTo(1, 3),
      expect.closeTo(0, 2),
      expect.closeTo(60, 2),
      expect.closeTo(0, 2),
    ]);
  });
});
