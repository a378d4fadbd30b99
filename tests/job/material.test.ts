import { describe, expect, it } from 'vitest';
import { readMaterial } from '../../src/job/material/material.ts';
import { changed, exampleSource, MATERIAL } from './examples.ts';

describe('a material', () => {
  it('carries every number with its unit, and the removal energy with its provenance', () => {
    const { value, problems } = readMaterial(exampleSource(MATERIAL), 'catalogue');
    expect(problems).toEqual([]);
    expect(value).toMatchObject({
      id: 'acrylic-cast',
      rank: 'catalogue',
      name: 'cast acrylic',
      aliases: ['PMMA cast', 'cast PMMA'],
      family: 'acrylic',
      densityGPerCm3: 1.19,
      removal: {
        jPerMm3: 4.17,
        spread: 0.15,
        coupons: 0,
        provenance: { kind: 'published', source: '[COZZENS-1978]' },
      },
      divergence: { share: 0.15, low: 0.05, high: 0.4 },
      cleanSpeedMmPerS: { co2: 4, diode: 1, fibre: null },
      thermal: { conductivityWPerMK: 0.19, diffusivityMm2PerS: 0.11, temperatureRiseK: 350 },
      kerfThresholdJPerMm2: 0.05,
      sources: { co2: 'cuts', diode: 'does-not-absorb', fibre: 'does-not-absorb' },
      sourceReasons: { diode: 'clear acrylic passes 450 nm light' },
      transmits: { diode: 0.9 },
      hazard: { class: 'usual', source: '[ACRYLIC-MANUAL]' },
      traits: { clear: true, mirrored: false },
      thicknessMm: { min: 2, max: 25 },
      coupons: [
        {
          machine: 'bench-60w',
          lens: '2in',
          powerW: 48,
          speedMmPerS: 8,
          through: true,
          depthMm: null,
          date: '2026-09-01',
        },
        { machine: null, passes: 1, focusMm: 0, through: null, depthMm: 4.1 },
      ],
      statesFocus: true,
    });
  });

  it('has the thicknesses that can be bought, each once and rising; none where it does not say', () => {
    const source = changed(MATERIAL, /^thickness:/m, 'stock: [6 mm, 3 mm, 4 mm, 3 mm]\nthickness:');
    expect(readMaterial(source, 'shop').value?.stockMm).toEqual([3, 4, 6]);
    expect(readMaterial(exampleSource(MATERIAL), 'shop').value?.stockMm).toEqual([]);
  });

  it.each<[string, string | RegExp, string, string]>([
    [
      'a density without a source',
      /density: \{ value: 1.19 g\/cm3, .*\}/,
      'density: { value: 1.19 g/cm3 }',
      'density, source is missing',
    ],
    ['a bare number', /density: \{.*\}/, 'density: 1.19 g/cm3', 'keys with values belong here'],
    [
      'a removal energy without a source',
      /^ {2}source: "published: \[COZ.*\n/m,
      '',
      'removal-energy, source is missing',
    ],
    ['a source of no kind', '"published: [COZZENS-1978]', '"[COZZENS-1978]', 'a source begins with one of'],
    ['a kind without a source', /"published: \[COZ[^"]*"/, '"published: "', 'a source begins with one of'],
    ['a memory that names nothing', '"memory: data sheets"', 'memory', 'a source begins with one of'],
    [
      'a verdict without its reason',
      'reason: "clear acrylic passes 450 nm light", ',
      '',
      'sources, diode, reason is missing',
    ],
    ['a bare verdict that needs a reason', 'co2: cuts', 'co2: marks-only', 'verdict: marks-only | does-not-absorb'],
    ['a source left out', /^ {2}fibre:.*\n/m, '', 'sources, fibre is missing'],
    ['nothing to remove where a source cuts', /^removal-energy:.*\n(?: .*\n)+/m, '', 'removal-energy is missing'],
    [
      'a removal energy where nothing cuts',
      'co2: cuts',
      'co2: { verdict: marks-only, reason: r, source: common practice }',
      'no source cuts this material',
    ],
    ['a share outside its band', 'low: 0.05', 'low: 0.2', 'does not lie between low and high'],
    ['a coupon that says nothing', ', depth: 4.1 mm', '', 'either through (true or false) or a measured depth'],
    ['a coupon deeper than it is', 'depth: 4.1 mm', 'depth: 6.1 mm', 'the depth is more than the thickness'],
    ['an alias twice', '[PMMA cast, cast PMMA]', '[PMMA, pmma]', '"pmma" is named twice'],
    ['the name of the unknown', '[PMMA cast, cast PMMA]', '[Unknown]', 'no material can be called "unknown"'],
    ['a thickness upside down', 'from: 2 mm', 'from: 30 mm', 'from is more than to'],
    [
      'a sheet on sale that is thicker than the thickest',
      /^thickness:.*$/m,
      'thickness: { from: 2 mm, to: 25 mm, source: "common practice" }\nstock: [3 mm, 30 mm]',
      'stock: 30.0 mm does not lie between',
    ],
    ['a stock without a sheet', /^thickness:/m, 'stock: []\nthickness:', 'name at least one thickness'],
    [
      'a hazard that does not exist',
      'class: usual',
      'class: harmless',
      'is not one of usual, extract, reconsider, never',
    ],
  ])('refuses %s', (_, from, to, text) => {
    const { value, problems } = readMaterial(changed(MATERIAL, from, to), 'catalogue');
    expect(value).toBeNull();
    expect(problems.map((problem) => problem.args.text).join('\n')).toContain(text);
  });
});
