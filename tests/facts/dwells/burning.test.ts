import { describe, expect, it } from 'vitest';
import { burningDwells } from '../../../src/facts/dwells/burning.ts';
import type { Dwell } from '../../../src/model/toolpath.ts';
import { at, toolpath } from '../../rules/build-facts.ts';

const ON = { mode: 'on', word: 'M3' } as const;
const OFF = { mode: 'off', word: 'off' } as const;
const IN_MOTION = { mode: 'on-in-motion', word: 'M4' } as const;

const dwell = (change: Partial<Dwell> = {}): Dwell => ({
  place: at('', 9),
  seconds: 2,
  pause: false,
  setting: 0.8,
  beam: ON,
  x: 10,
  y: 20,
  ...change,
});

/** Whether a dwell burns, where a pierce takes half a second. */
function burns(change: Partial<Dwell>, gated: boolean | null = null): boolean {
  const dwells = { items: [dwell(change)], endedEarly: null };
  return burningDwells(toolpath({ dwells }), gated, 0.5).items.length > 0;
}

describe('a dwell burns', () => {
  it('while the beam is commanded on and has power', () => {
    expect(burns({})).toBe(true);
    expect(burns({ setting: 0.001 })).toBe(true);
    expect(burns({ setting: 0 })).toBe(false);
    expect(burns({ beam: OFF })).toBe(false);
  });

  it('where it lasts longer than a pierce', () => {
    expect(burns({ seconds: 0.5 })).toBe(false);
    expect(burns({ seconds: 0.51 })).toBe(true);
  });

  it('where it is a pause that somebody has to end', () => {
    expect(burns({ seconds: 0, pause: true })).toBe(true);
    expect(burns({ seconds: 0, pause: true, beam: OFF })).toBe(false);
  });

  it('under a beam that goes with the motion, unless the controller is known to gate it', () => {
    expect(burns({ beam: IN_MOTION }, true)).toBe(false);
    expect(burns({ beam: IN_MOTION }, false)).toBe(true);
    expect(burns({ beam: IN_MOTION }, null)).toBe(true);
    expect(burns({ beam: ON }, true)).toBe(true);
  });
});

it('dwells that burn are told in the order of the program, and that more may follow', () => {
  const [first, second] = [dwell(), dwell({ seconds: 9 })];
  const dwells = { items: [first, dwell({ beam: OFF }), second], endedEarly: 'there are too many' };
  expect(burningDwells(toolpath({ dwells }), null, 0.5)).toEqual({
    items: [first, second],
    endedEarly: 'there are too many',
  });
});
