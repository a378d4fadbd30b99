import type { DrawnPin } from '../../facts/drawing/drawing-model.ts';
import type { MapFrame } from './map-frame.ts';
import { closing, type MapIds, type NumberedFinding, opening } from './map-links.ts';
import { coordinate } from './picture-parts.ts';

/** Pins beyond so many would hide the sheet; the worst findings are pinned first. */
export const MOST_PINS = 60;

/** Pins shaped as drops, whose tips mark the places; pins at one place are fanned out. */
export function pins(
  drawn: readonly DrawnPin[],
  findings: readonly NumberedFinding[],
  frame: MapFrame,
  ids: MapIds | null,
): string[] {
  const taken = new Map<string, number>();
  const at = new Map(drawn.map((pin) => [pin.fingerprint, pin]));
  const shown = findings.flatMap(({ number, finding }) => {
    const pin = at.get(finding.fingerprint);
    return pin ? [{ number, finding, pin }] : [];
  });
  return shown.slice(0, MOST_PINS).map(({ number, finding, pin }) => {
    const x = frame.x(pin.x);
    const y = frame.y(pin.y);
    const cell = `${Math.round(x / (16 * frame.px))},${Math.round(y / (16 * frame.px))}`;
    const beside = taken.get(cell) ?? 0;
    taken.set(cell, beside + 1);
    const label = `Finding ${number}, ${finding.severity}: ${finding.message}`;
    return [
      opening(
        `class="pin ${finding.severity}" id="${ids?.prefix ?? 'map'}-pin-${number}"`,
        ids?.finding(finding.fingerprint),
        label,
      ),
      `<g class="fixed" data-x="${x}" data-y="${y}" transform="translate(${x} ${y}) scale(${coordinate(frame.px * 0.75)})">`,
      `<path d="M0 0L-7 -13A11 11 0 1 1 7 -13Z" transform="rotate(${beside * 50 - (beside > 3 ? 400 : 0)})"/>`,
      `<text ${textAt(beside * 50)}>${number}</text></g>`,
      closing(ids),
    ].join('');
  });
}

/** The number stands upright in the head of the drop, 21 px from its tip. */
function textAt(degrees: number): string {
  const rad = (degrees * Math.PI) / 180;
  return `x="${coordinate(21 * Math.sin(rad))}" y="${coordinate(-21 * Math.cos(rad) + 4)}"`;
}
