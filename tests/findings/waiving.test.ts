import { describe, expect, it } from 'vitest';
import { type StatedWaiver, waive } from '../../src/findings/waiving.ts';
import { finding } from './results.ts';

const TODAY = '2026-11-25';
const SAFETY = new Set(['material/hazardous']);

function statusWith(waiver: Partial<StatedWaiver>, rule = 'cut/marginal') {
  const stated = { rule, reason: 'proved on coupon 12', until: null, ...waiver };
  const [only] = waive([finding({ rule })], [stated], TODAY, SAFETY);
  return [only?.status, only?.reason];
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
    const [only] = waive(
      [finding({ status: 'baselined' })],
      [{ rule: finding().rule, reason: 'x', until: null }],
      TODAY,
      SAFETY,
    );
    expect(only?.status).toBe('baselined');
  });
});
