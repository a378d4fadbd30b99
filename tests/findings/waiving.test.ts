import { describe, expect, it } from 'vitest';
import { type StatedWaiver, waive } from '../../src/findings/waiving.ts';
import { finding } from './results.ts';

const TODAY = '2026-11-25';
const SAFETY = new Set(['material/hazardous']);

const at = (file: string, line: number) => ({ file, line, column: 1, endLine: line, endColumn: 2 });

const stated = (waiver: Partial<StatedWaiver>): StatedWaiver => ({
  rule: 'cut/marginal',
  reason: 'proved on coupon 12',
  until: null,
  scope: 'job',
  location: at('hub.job.yaml', 9),
  ...waiver,
});

function statusWith(waiver: Partial<StatedWaiver>, rule = 'cut/marginal', place = at('hub.gcode', 5)) {
  const { findings } = waive([finding({ rule, location: place })], [stated({ rule, ...waiver })], TODAY, SAFETY);
  return [findings[0]?.status, findings[0]?.reason];
}

describe('a waiver', () => {
  it('keeps the finding, marks it and tells why', () => {
    expect(statusWith({})).toEqual(['waived', 'proved on coupon 12']);
  });

  it.each<[string, Partial<StatedWaiver>]>([
    ['for another rule', { rule: 'cut/short-of-through' }],
    ['without a reason', { reason: null }],
    ['with an empty reason', { reason: '  ' }],
    ['past its day', { until: '2026-11-24' }],
  ])('%s does not count', (_, waiver) => {
    expect(statusWith(waiver)).toEqual(['open', undefined]);
  });

  it('counts on its last day', () => {
    expect(statusWith({ until: TODAY })[0]).toBe('waived');
  });

  it('of a safety rule counts only with a day', () => {
    expect(statusWith({}, 'material/hazardous')[0]).toBe('open');
    expect(statusWith({ until: '2027-03-01' }, 'material/hazardous')[0]).toBe('waived');
  });

  it('leaves alone what is in the baseline', () => {
    const { findings, held } = waive(
      [finding({ status: 'baselined' })],
      [stated({ rule: finding().rule })],
      TODAY,
      SAFETY,
    );
    expect(findings[0]?.status).toBe('baselined');
    expect(held[0]?.covered).toBe(0);
  });

  it('in a comment covers its own line and the next one of its file', () => {
    const inline = { scope: 'line' as const, location: at('hub.gcode', 4) };
    expect(statusWith(inline, 'cut/marginal', at('hub.gcode', 4))[0]).toBe('waived');
    expect(statusWith(inline, 'cut/marginal', at('hub.gcode', 5))[0]).toBe('waived');
    expect(statusWith(inline, 'cut/marginal', at('hub.gcode', 6))[0]).toBe('open');
    expect(statusWith(inline, 'cut/marginal', at('hub.svg', 5))[0]).toBe('open');
  });

  it('for a file covers all of the file and no other', () => {
    const whole = { scope: 'file' as const, location: at('hub.gcode', 1) };
    expect(statusWith(whole, 'cut/marginal', at('hub.gcode', 600))[0]).toBe('waived');
    expect(statusWith(whole, 'cut/marginal', at('hub.job.yaml', 1))[0]).toBe('open');
  });

  it('of a safety rule never counts in a comment', () => {
    const inline = { scope: 'line' as const, until: '2027-03-01', location: at('hub.gcode', 5) };
    expect(statusWith(inline, 'material/hazardous')[0]).toBe('open');
  });

  it('is told apart as counting and as covering something', () => {
    const { held } = waive(
      [finding({ rule: 'cut/marginal' })],
      [stated({}), stated({ rule: 'cut/uneven' })],
      TODAY,
      SAFETY,
    );
    expect(held.map(({ counts, covered }) => [counts, covered])).toEqual([
      [true, 1],
      [true, 0],
    ]);
  });
});
