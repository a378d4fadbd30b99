import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  moneyPattern,
  POWER_SETTING_PATTERN,
  parseMoney,
  parsePowerSetting,
  parseSpot,
  parseThickness,
  SPOT_PATTERN,
  THICKNESS_PATTERN,
} from '../../src/units/compound-quantities.ts';
import { DIMENSIONS, type Dimension, unitNames } from '../../src/units/dimensions.ts';
import { exampleOf, parseQuantity, quantityPattern } from '../../src/units/quantity.ts';

const dimensions = Object.keys(DIMENSIONS) as Dimension[];

describe('a quantity with its unit', () => {
  it.each<[string, Dimension, number]>([
    ['6 mm', 'length', 6],
    ['6mm', 'length', 6],
    ['  6.0 mm ', 'length', 6],
    ['0.6 cm', 'length', 6],
    ['1/4 in', 'length', 6.35], // 1 in = 25.4 mm: NIST SP 811 (2008), appendix B.8
    ['1 1/2 in', 'length', 38.1],
    ['.5 in', 'length', 12.7],
    ['2"', 'length', 50.8],
    ['1 ft', 'length', 304.8],
    ['20 thou', 'length', 0.508],
    ['250 µm', 'length', 0.25],
    ['-1 mm', 'length', -1],
    ['−1 mm', 'length', -1],
    ['6\u00a0mm', 'length', 6],
    ['6\u2009mm', 'length', 6],
    ['6\u202fmm', 'length', 6],
    ['10.6 um', 'wavelength', 10.6],
    ['10.6 µm', 'wavelength', 10.6],
    ['10.6 μm', 'wavelength', 10.6],
    ['450 nm', 'wavelength', 0.45],
    ['12 mm/s', 'speed', 12],
    ['720 mm/min', 'speed', 12],
    ['0.72 m/min', 'speed', 12],
    ['60 in/min', 'speed', 25.4],
    ['1 ips', 'speed', 25.4],
    ['3000 mm/s2', 'acceleration', 3000],
    ['3000 mm/s²', 'acceleration', 3000],
    ['3 m/s^2', 'acceleration', 3000],
    ['80 %', 'fraction', 0.8],
    ['80%', 'fraction', 0.8],
    ['54 W', 'power', 54],
    ['1.2 kW', 'power', 1200],
    ['1.4 bar', 'pressure', 1.4],
    ['140 kPa', 'pressure', 1.4],
    ['0.5 s', 'time', 0.5],
    ['500 ms', 'time', 0.5],
    ['900 h', 'hours', 900],
    ['4.17 J/mm3', 'energy-per-volume', 4.17],
    ['4.17 kJ/cm³', 'energy-per-volume', 4.17],
    ['5 J/cm2', 'energy-per-area', 0.05],
    ['1190 kg/m3', 'density', 1.19],
    ['0.19 W/m/K', 'conductivity', 0.19],
    ['0.19 W/mK', 'conductivity', 0.19],
    ['0.19 W/(m·K)', 'conductivity', 0.19],
    ['0.11 mm2/s', 'diffusivity', 0.11],
    ['350 K', 'temperature', 350],
    ['10 deg', 'angle', 10],
  ])('%s is a %s of %d', (text, dimension, value) => {
    expect(parseQuantity(text, dimension)).toEqual({ ok: true, value });
    expect(text).toMatch(new RegExp(quantityPattern(dimension, true)));
  });

  it('knows the pound-force per square inch', () => {
    // 1 psi = 6.894 757 kPa: NIST SP 811 (2008), appendix B.8
    const read = parseQuantity('20 psi', 'pressure');
    expect(read.ok && read.value).toBeCloseTo(1.3789514, 7);
  });

  it.each<[unknown, Dimension, string]>([
    [12, 'speed', '"12" has no unit: did you mean 12 mm/s?'],
    ['12', 'speed', '"12" has no unit: did you mean 12 mm/s?'],
    ['0,5 mm', 'length', '"0,5 mm" has a decimal comma: write 0.5 mm'],
    ['1,000 mm', 'length', 'leave the comma out if thousands are meant'],
    ['12 mm', 'speed', '"12 mm" is a length where a speed belongs'],
    ['12 mms', 'speed', 'did you mean mm/s?'],
    ['12 furlongs', 'speed', 'a speed is written in mm/s, mm/min'],
    ['1e3 mm', 'length', 'exponent'],
    ['1.2.3 mm', 'length', 'is not a length'],
    ['1/0 in', 'length', 'is not a number that can be used'],
    ['quick', 'speed', 'write a number and a unit, such as 12 mm/s'],
    ['', 'length', 'expected a length such as 6 mm'],
    [null, 'length', 'expected a length such as 6 mm'],
    [{}, 'length', 'expected a length such as 6 mm'],
    ['٣ mm', 'length', 'is not a length'],
    ['１２ mm', 'length', 'is not a length'],
  ])('%j as a %s is refused and explained', (text, dimension, problem) => {
    const read = parseQuantity(text, dimension);
    expect(read.ok).toBe(false);
    expect(read.ok ? '' : read.problem).toContain(problem);
  });

  it('reads decimals exactly as JavaScript writes the converted number', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 999_999_999 }), fc.integer({ min: 0, max: 5 }), (digits, decimals) => {
        const text = (digits / 10 ** decimals).toFixed(decimals);
        expect(parseQuantity(`${text} mm`, 'length')).toEqual({ ok: true, value: Number(text) });
        // An inch is a whole number of tenths of a millimetre: the exact product is one division away.
        const exact = (digits * 254) / 10 ** (decimals + 1);
        expect(parseQuantity(`${text} in`, 'length')).toEqual({ ok: true, value: exact });
      }),
    );
  });

  it('never throws, and an editor accepts every text that is read', () => {
    const pieces = fc.constantFrom(
      '1',
      '25',
      '.',
      '/',
      ' ',
      '-',
      '+',
      '±',
      'mm',
      'in',
      '/s',
      '%',
      'W',
      'EUR',
      'x',
      'é',
      ',',
    );
    const texts = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 30 }),
      fc.array(pieces, { maxLength: 8 }).map((parts) => parts.join('')),
    );
    fc.assert(
      fc.property(texts, fc.constantFrom(...dimensions), (text, dimension) => {
        const read = parseQuantity(text, dimension);
        if (read.ok) expect(text).toMatch(new RegExp(quantityPattern(dimension, true)));
        if (parseThickness(text).ok) expect(text).toMatch(new RegExp(`${THICKNESS_PATTERN}|^\\s*[-−]|±\\s*-`));
        const power = parsePowerSetting(text);
        if (power.ok && !/^\s*[-−]/.test(text)) expect(text).toMatch(new RegExp(POWER_SETTING_PATTERN));
        if (parseSpot(text).ok) expect(text).toMatch(new RegExp(SPOT_PATTERN));
        if (parseMoney(text, 'once').ok) expect(text).toMatch(new RegExp(moneyPattern('once')));
      }),
      { numRuns: 2000 },
    );
  });

  it('has an example for every dimension that it reads itself', () => {
    for (const dimension of dimensions) expect(parseQuantity(exampleOf(dimension), dimension).ok).toBe(true);
  });

  it('reads its own unit names', () => {
    for (const dimension of dimensions) {
      for (const name of unitNames(dimension)) expect(parseQuantity(`3 ${name}`, dimension).ok).toBe(true);
    }
  });
});

describe('a thickness', () => {
  it.each([
    ['6.0 mm ± 0.2 mm', { mm: 6, plusMinusMm: 0.2, nominal: false }],
    ['6.0 mm +/- 0.2 mm', { mm: 6, plusMinusMm: 0.2, nominal: false }],
    ['6.0 ± 0.2 mm', { mm: 6, plusMinusMm: 0.2, nominal: false }],
    ['1/4 in ± 0.2 mm', { mm: 6.35, plusMinusMm: 0.2, nominal: false }],
    ['nominal 6 mm', { mm: 6, plusMinusMm: null, nominal: true }],
    ['Nominal 1/4 in', { mm: 6.35, plusMinusMm: null, nominal: true }],
    ['6 mm', { mm: 6, plusMinusMm: null, nominal: false }],
  ])('%s', (text, value) => {
    expect(parseThickness(text)).toEqual({ ok: true, value });
    expect(text).toMatch(new RegExp(THICKNESS_PATTERN));
  });

  it.each([
    [6, 'did you mean 6 mm?'],
    ['6 mm ± 0.2', 'did you mean 0.2 mm?'],
    ['6 mm ± 7 mm', 'as large as the thickness'],
    ['6 mm ± -1 mm', 'negative tolerance'],
    ['6 mm ± 1 mm ± 1 mm', 'more than one tolerance'],
  ])('%j is refused', (text, problem) => {
    const read = parseThickness(text);
    expect(read.ok ? '' : read.problem).toContain(problem);
  });
});

describe('a power setting', () => {
  it('is a share of full power or watts at the work', () => {
    expect(parsePowerSetting('80 %')).toEqual({ ok: true, value: { fraction: 0.8 } });
    expect(parsePowerSetting('48 W')).toEqual({ ok: true, value: { watts: 48 } });
  });

  it('offers both where the unit is missing', () => {
    for (const text of [80, '80']) {
      const read = parsePowerSetting(text);
      expect(read.ok ? '' : read.problem).toBe('"80" has no unit: did you mean 80 % or 80 W?');
    }
  });
});

describe('money', () => {
  it('carries a currency code and what it is for', () => {
    expect(parseMoney('14.50 EUR', 'once')).toEqual({ ok: true, value: { amount: 14.5, currency: 'EUR' } });
    expect(parseMoney('18 EUR/h', 'per-hour')).toEqual({ ok: true, value: { amount: 18, currency: 'EUR' } });
    expect(parseMoney('0.32 EUR/kWh', 'per-kWh')).toEqual({ ok: true, value: { amount: 0.32, currency: 'EUR' } });
  });

  it.each([
    ['14.50', 'did you mean 14.50 EUR?'],
    ['14,50 EUR', 'write 14.50 EUR'],
    ['€14', 'a currency code belongs'],
    ['18 EUR/h', 'should read as 14.50 EUR'],
    ['-3 EUR', 'is not money'],
  ])('%s is refused', (text, problem) => {
    const read = parseMoney(text, 'once');
    expect(read.ok ? '' : read.problem).toContain(problem);
  });
});

describe('a spot', () => {
  it('is round or a rectangle', () => {
    expect(parseSpot('0.27 mm')).toEqual({ ok: true, value: { xMm: 0.27, yMm: 0.27 } });
    expect(parseSpot('0.08 mm x 0.15 mm')).toEqual({ ok: true, value: { xMm: 0.08, yMm: 0.15 } });
    expect(parseSpot('80 um × 150 um')).toEqual({ ok: true, value: { xMm: 0.08, yMm: 0.15 } });
  });

  it('is not nothing', () => {
    expect(parseSpot('0 mm').ok).toBe(false);
    expect(parseSpot('0.1 mm x 0.1 mm x 0.1 mm').ok).toBe(false);
  });
});
