// Artwork and YAML with random damage. `npm run fuzz` does the same with many more files; toolpaths, which take the longest, stand
// in a file of their own so that both are done at a time.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../src/cli/registered-rules.ts';
import { readSettings } from '../../src/job/settings/settings.ts';
import { rulesInForce } from '../../src/rules/in-force.ts';
import { bytesSource } from '../../src/source/source.ts';
import { demoFiles } from '../memory-shop.ts';
import { toItsEnd } from '../to-its-end.ts';
import { damaged, itSurvives, lineLengths } from './damaged.ts';
import { mutated, seeds } from './mutations.ts';

const ARTWORK = /\.svg$/;
const SIDECAR = /\.job\.yaml$/;
const MACHINE = /\.machine\.yaml$/;
const MATERIAL = /\.material\.yaml$/;

const trio = demoFiles('gate-sign.job.yaml', 'gate-sign.gcode', 'gate-sign.svg');
const besideItsMachine = (trio['gate-sign.job.yaml'] as string).replace(/^machine: .*/m, 'machine: own.machine.yaml');

describe('damaged files, judged without a fault, in time, with every place inside its file and every format valid', () => {
  it('begin with files of every kind', () => {
    expect(seeds(SIDECAR).length).toBeGreaterThan(5);
    for (const suffix of [ARTWORK, MACHINE, MATERIAL]) expect(seeds(suffix).length).toBeGreaterThan(0);
  });

  it('are broken off when judging does not end, so that the file can be named', () => {
    const endless = () => {
      for (;;);
    };
    expect(() => toItsEnd(endless, 50)).toThrow(/timed out/);
  });

  itSurvives(
    'artwork',
    0.35,
    damaged('svg', ARTWORK, (bytes) => ({ 'odd.svg': bytes })),
  );
  itSurvives(
    'sidecars',
    0.25,
    damaged('yaml', SIDECAR, (bytes) => ({ ...trio, 'gate-sign.job.yaml': bytes })),
  );
  itSurvives(
    'machines beside a job',
    0.1,
    damaged('yaml', MACHINE, (bytes) => ({
      ...trio,
      'own.machine.yaml': bytes,
      'gate-sign.job.yaml': besideItsMachine,
    })),
  );
  itSurvives(
    'materials beside a job',
    0.04,
    damaged('yaml', MATERIAL, (bytes) => ({ ...trio, 'own.material.yaml': bytes })),
  );
});

describe('damaged settings', () => {
  const files = [
    ...seeds(/\.kerflint\.yaml$/),
    new TextEncoder().encode(
      'kerflint: 1\nmachines: [machines]\nexclude: ["old/**"]\nbudget: 5 EUR\nrules: { cut/short-of-through: warning, toolpath/dwell-burn: { severity: note } }\n',
    ),
  ];

  itSurvives(
    'give problems with places, never an exception',
    0.06,
    fc.property(mutated('yaml', files), (bytes) => {
      const { value, problems } = readSettings(bytesSource('.kerflint.yaml', bytes));
      const more =
        value === null
          ? []
          : rulesInForce(RULES, value.rules).problems.map(({ path }) => value.placeOf(['rules', ...path], 'key'));
      const last = lineLengths('.kerflint.yaml', bytes).length;
      for (const place of [...problems.map((one) => one.place), ...more])
        expect(place.line >= 1 && place.endLine <= last).toBe(true);
    }) as fc.IProperty<unknown>,
  );
});
