import { Labels } from '../../../src/model/labels.ts';
import { Moves } from '../../../src/model/motion/moves.ts';
import type { ToolpathOptions } from '../../../src/model/reader.ts';
import type { Toolpath } from '../../../src/model/toolpath.ts';
import type { Place, Problem } from '../../../src/source/place.ts';
import { type Source, wholeText } from '../../../src/source/source.ts';
import { everything } from '../../../src/units/found.ts';
import { LINE_LIST, type LINE_LIST_PROBLEMS, lineListReader } from './reader.ts';

const LARGEST_BYTES = 1_000_000;

export function readLineList(source: Source, options: ToolpathOptions): Toolpath {
  const lines = wholeText(lineListReader.asUtf8(source), LARGEST_BYTES).split('\n');
  const moves = new Moves(options);
  const labels = new Labels();
  const problems: Problem<keyof typeof LINE_LIST_PROBLEMS>[] = [];
  let highestSetting: Toolpath['highestSetting'] = null;
  let highestSpeed: Toolpath['highestSpeed'] = null;
  for (const [i, written] of lines.entries()) {
    const [code = '', remark] = written.split('#');
    const [verb = '', percent, speed, ...points] = code.trim().split(/ +/);
    const place: Place = { line: i + 1, column: 1, endLine: i + 1, endColumn: 1 + code.length };
    if (verb === '') continue;
    if (verb !== 'cut') {
      problems.push({ code: 'unknown-verb', place, args: { text: verb } });
      continue;
    }
    moves.label = labels.indexOf(remark?.trim() ?? null, null, i + 1);
    moves.speedMmPerS = Number(speed);
    const setting = Number(percent) / 100;
    highestSetting ??= { value: setting, raw: Number(percent), place };
    highestSpeed ??= { mmPerS: moves.speedMmPerS, place };
    for (const [k, point] of points.entries()) {
      [moves.toX, moves.toY] = point.split(',').map(Number) as [number, number];
      moves.setting = k === 0 ? 0 : setting;
      moves.line(i + 1, k === 0, false);
    }
  }
  return {
    ...moves.finish(labels.list),
    reader: LINE_LIST,
    bytes: source.size,
    lines: lines.length,
    labels: labels.list,
    dwells: everything([]),
    labelsEndedEarly: null,
    problems,
    analysed: problems.length === 0,
    end: {
      place: { line: lines.length, column: 1, endLine: lines.length, endColumn: 1 },
      stated: true,
      beam: { mode: 'off', word: 'off' },
      setting: 0,
    },
    highestSetting,
    lowestPoweredSetting: highestSetting,
    highestSpeed,
    beamWords: [],
    offsets: { used: [], place: null, unfollowed: null, fromMachine: null },
    units: 'mm',
    switchesAir: false,
  };
}
