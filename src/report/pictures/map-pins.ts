import type { DrawnPin } from '../../facts/drawing/drawing-model.ts';
import type { LabelBox } from './label-room.ts';
import type { MapFrame } from './map-frame.ts';
import { closing, type MapIds, type NumberedFinding, opening } from './map-links.ts';
import { coordinate } from './picture-parts.ts';
import { headOf, pinTurns } from './pin-turns.ts';

/** Pins beyond so many would hide the sheet; the worst findings are pinned first. */
export const MOST_PINS = 60;
/** Size of a pin as it is drawn below, in px of the lay-out. */
const SCALE = 0.75;
/** Half the width of a head, px. */
export const HEAD_REACH_PX = 9;

/** Pins shaped as drops, whose tips mark the places, with heads that keep off each other; and the places that they take, px. */
export function pins(
  drawn: readonly DrawnPin[],
  findings: readonly NumberedFinding[],
  frame: MapFrame,
  ids: MapIds | null,
): { parts: string[]; taken: LabelBox[] } {
  const at = new Map(drawn.map((pin) => [pin.fingerprint, pin]));
  const shown = findings
    .flatMap(({ number, finding }) => {
      const pin = at.get(finding.fingerprint);
      return pin ? [{ number, finding, x: frame.x(pin.x), y: frame.y(pin.y) }] : [];
    })
    .slice(0, MOST_PINS);
  const tips = shown.map(({ x, y }) => ({ x: x / frame.px, y: y / frame.px }));
  const turns = pinTurns(tips);
  const parts = shown.map(({ number, finding, x, y }, i) => {
    const label = `Finding ${number}, ${finding.severity}: ${finding.message}`;
    return [
      opening(
        `class="pin ${finding.severity}" id="${ids?.prefix ?? 'map'}-pin-${number}"`,
        ids?.finding(finding.fingerprint),
        label,
      ),
      `<g class="fixed" data-x="${x}" data-y="${y}" transform="translate(${x} ${y}) scale(${coordinate(frame.px * SCALE)})">`,
      pinShape(number, turns[i] ?? null),
      '</g>',
      closing(ids),
    ].join('');
  });
  const taken = tips.flatMap((tip, i) => (turns[i] === null || turns[i] === undefined ? [] : [headBox(tip, turns[i])]));
  return { parts, taken };
}

/** The drop with its number, its tip at 0 0; without room for its head a dot. */
export function pinShape(number: number, turn: number | null): string {
  if (turn === null) return '<circle r="4"/>';
  const head = headOf(0, 0, turn);
  return `<path d="M0 0L-7 -13A11 11 0 1 1 7 -13Z"${turn === 0 ? '' : ` transform="rotate(${turn})"`}/><text x="${coordinate(head.x / SCALE)}" y="${coordinate(head.y / SCALE + 4)}">${number}</text>`;
}

/** What the head of a pin covers, px. */
export function headBox(tip: { x: number; y: number }, turn: number): LabelBox {
  const { x, y } = headOf(tip.x, tip.y, turn);
  return { left: x - HEAD_REACH_PX, top: y - HEAD_REACH_PX, right: x + HEAD_REACH_PX, bottom: y + HEAD_REACH_PX };
}
