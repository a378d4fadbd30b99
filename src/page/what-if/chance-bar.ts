import { coordinate, type Picture, rectangle, straightLine } from '../../report/pictures/picture-parts.ts';

/** Size of the bar, px. */
const BAR = { width: 200, height: 16 };

/** How likely a cut parts, as a bar up to what is asked of it: told by length and a mark, not by colour. */
export function chanceBar(probability: number, limit: number | null): Picture {
  const at = (share: number) => coordinate(share * (BAR.width - 2) + 1);
  const parts = [
    rectangle(1, 3, BAR.width - 2, BAR.height - 6, 'bar-room'),
    rectangle(1, 3, Math.max(1, probability * (BAR.width - 2)), BAR.height - 6, 'bar-share'),
    limit === null ? '' : straightLine(Number(at(limit)), 0, Number(at(limit)), BAR.height, 'p-line'),
  ];
  return { viewBox: { x: 0, y: 0, ...BAR }, title: '', description: '', body: parts.join('') };
}
