import { readFileSync } from 'node:fs';
import { Ajv } from 'ajv';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { readBench } from '../../src/job/machine/bench.ts';
import { readMachine } from '../../src/job/machine/machine.ts';
import { readCouponResults } from '../../src/job/material/coupon-results.ts';
import { readMaterial } from '../../src/job/material/material.ts';
import { readSettings } from '../../src/job/settings/settings.ts';
import { readSidecar } from '../../src/job/sidecar/sidecar.ts';
import { type Source, textSource } from '../../src/source/source.ts';
import { BENCH, example, MACHINE, MATERIAL, SIDECAR } from './examples.ts';

const ajv = new Ajv({ strict: true, allErrors: true, allowUnionTypes: true });
const compiled = (name: string) =>
  ajv.compile(JSON.parse(readFileSync(new URL(`../../schemas/${name}.schema.json`, import.meta.url), 'utf8')));

const SETTINGS = 'kerflint: 1\nmachines: [shop]\nmaterials: [shop, more]\nbudget: 20 EUR\n';
const RESULTS = `kerflint: 1
machine: shed-60w
lens: "2in"
material: birch-plywood
thickness: 4.0 mm ± 0.1 mm
at: { x: 76 mm, y: 17 mm }
date: 2026-11-25
coupons:
  - { tongue: 1, power: 85 %, speed: 6.1 mm/s, passes: 2, focus: -1 mm, focus-step: -2 mm, through: yes }
  - { tongue: 2, power: 40 W, speed: 5.8 mm/s, thickness: 3 mm, depth: 2.1 mm }
  - { tongue: 3, power: 60 %, speed: 5.4 mm/s, through: }
ramp: { near: 4 mm, far: -4 mm, length: 100 mm, sharpest: { from: 44 mm, to: 52 mm } }
`;
const formats = [
  { name: 'job', text: example(SIDECAR), file: SIDECAR, read: readSidecar },
  { name: 'machine', text: example(MACHINE), file: MACHINE, read: (s: Source) => readMachine(s, 'shop') },
  { name: 'bench', text: example(BENCH), file: BENCH, read: readBench },
  { name: 'material', text: example(MATERIAL), file: MATERIAL, read: (s: Source) => readMaterial(s, 'shop') },
  { name: 'coupon-results', text: RESULTS, file: 'comb.results.yaml', read: readCouponResults },
  { name: 'settings', text: SETTINGS, file: '.kerflint.yaml', read: readSettings },
].map((format) => ({ ...format, valid: compiled(format.name) }));

// Ajv is the judge of what the published JSON Schemas mean.
describe.each(formats)('the JSON Schema of $name', ({ text, file, read, valid }) => {
  it('accepts the example', () => {
    expect(read(textSource(file, text)).problems).toEqual([]);
    valid(parse(text));
    expect(valid.errors).toBeNull();
  });

  it('refuses every example with an unknown key or a missing one, as the reader does', () => {
    const whole = parse(text) as Record<string, unknown>;
    expect(valid({ ...whole, surprise: 1 })).toBe(false);
    const { kerflint: _, ...rest } = whole;
    expect(valid(rest)).toBe(false);
  });

  it('accepts whatever the reader accepts', () => {
    const lines = text.split('\n');
    const value = fc.constantFrom(
      '6 mm',
      '1/4 in',
      '80%',
      '7 W',
      '12 mm/s',
      '-1 mm',
      '1',
      '0.5',
      'true',
      'cuts',
      'x',
      '"#fff"',
      '3 EUR',
      '{}',
      '[]',
      'null',
    );
    fc.assert(
      fc.property(fc.nat(lines.length - 1), fc.nat(3), value, (at, slot, replacement) => {
        let seen = -1;
        const line = lines[at]!.replace(/(: )([^{}[\],#]+)/g, (all, colon: string) => {
          seen++;
          return seen === slot ? `${colon}${replacement} ` : all;
        });
        const edited = lines.with(at, line).join('\n');
        if (read(textSource(file, edited)).value === null) return;
        valid(parse(edited));
        expect(valid.errors, line).toBeNull();
      }),
      { numRuns: 400 },
    );
  });

  it('explains its keys to people as they type', () => {
    const described = JSON.stringify(valid.schema).match(/"description"/g) ?? [];
    expect(described.length).toBeGreaterThan(3);
  });
});
