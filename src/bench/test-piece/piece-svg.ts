import { formatCount } from '../../units/format.ts';
import { writtenPercent, writtenSpeed } from '../../units/written.ts';
import { coordinate, isClosed, type Piece, type PieceGroup, type PieceStroke } from './piece.ts';

/** A piece as artwork at its true size: one group for each recipe, by its id; Y points down, as SVG has it. */
export function pieceArtwork(piece: Piece): string {
  const { widthMm, heightMm } = piece;
  const size = `width="${coordinate(widthMm)}mm" height="${coordinate(heightMm)}mm" viewBox="0 0 ${coordinate(widthMm)} ${coordinate(heightMm)}"`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" ${size} fill="none" stroke="#6741d9" stroke-width="0.1">`,
    `<title>${escaped(piece.title)}</title>`,
    `<desc>${escaped(piece.cautions.join(' '))}</desc>`,
    ...piece.groups.map((group) => groupText(group, heightMm)),
    '</svg>',
    '',
  ].join('\n');
}

function groupText(group: PieceGroup, heightMm: number): string {
  const paths = group.strokes.map((stroke) => `  <path d="${pathData(stroke, heightMm)}"/>`);
  return [
    `<g id="${escaped(group.id)}">`,
    `  <title>${escaped(group.name)}</title>`,
    `  <desc>${escaped(recipeText(group))}</desc>`,
    ...paths,
    '</g>',
  ].join('\n');
}

/** "80 %, 9 mm/s, 2 passes": what the group is cut with. */
function recipeText({ setting, speedMmPerS, passes }: PieceGroup): string {
  return `${writtenPercent(setting)}, ${writtenSpeed(speedMmPerS)}, ${formatCount(passes, 'pass', 'passes')}`;
}

function pathData(stroke: PieceStroke, heightMm: number): string {
  const closed = isClosed(stroke);
  let from = { x: stroke.x, y: stroke.y };
  const parts = [`M${coordinate(stroke.x)} ${coordinate(heightMm - stroke.y)}`];
  stroke.segments.forEach((segment, i) => {
    const { x, y, centre } = segment;
    if (centre !== undefined) {
      const radius = coordinate(Math.hypot(from.x - centre.x, from.y - centre.y));
      parts.push(`A${radius} ${radius} 0 0 0 ${coordinate(x)} ${coordinate(heightMm - y)}`);
    } else if (!(closed && i === stroke.segments.length - 1))
      parts.push(`L${coordinate(x)} ${coordinate(heightMm - y)}`);
    from = { x, y };
  });
  return `${parts.join(' ')}${closed ? ' Z' : ''}`;
}

function escaped(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');
}
