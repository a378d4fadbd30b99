// Whatever is changed between two runs that share a cache: the result is the one that a run without it has.
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { folder, kerflint, REPOSITORY } from './harness.ts';

const MACHINE = readFileSync(join(REPOSITORY, 'examples/machines/shed-60w.machine.yaml'), 'utf8');
const square = (feed: number, at = 10) =>
  `G21 G90\nM8\nM4 S900 F${feed}\nG0 X${at} Y${at}\nG1 X${at + 30}\nG1 Y${at + 30}\nG1 X${at}\nG1 Y${at}\nM5\nM9\nM2\n`;
const drawn = (size: number) =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100"><rect x="10" y="10" width="${size}" height="${size}" fill="none" stroke="#9c36b5"/></svg>`;
const sidecar = (more: string) =>
  `kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 3 mm\nzero: machine\n${more}`;
const MATERIAL = readFileSync(join(REPOSITORY, 'data/materials/birch-plywood.material.yaml'), 'utf8');

/** A bench whose coupon says something of the demo's cuts, and whose ramp does. */
const BENCH = `kerflint: 1
machine: shed-60w
ramps: [{ lens: 2in, offset: 0.5 mm, spread: 0.2 mm }]
coupons:
  - { material: birch-plywood, lens: 2in, thickness: 3 mm, power: 45 W, speed: 9 mm/s, through: true }
`;

/** Each file with the contents that it may have; null: it is not there. What people tell apart by a word lies close together. */
const FILES: Record<string, (string | null)[]> = {
  'jobs/a.job.yaml': [
    sidecar('toolpath: a.gcode\n'),
    `# moved down\n${sidecar('toolpath: a.gcode\n')}`,
    sidecar('toolpath: a.gcode\nartwork: a.svg\n'),
    sidecar('toolpath: a.gcode\nface: bare\n'),
    sidecar('toolpath: b.gcode\n'),
    sidecar('toolpath: a.gcode\nwaive:\n  - { rule: cut/marginal, reason: "proved", until: 2026-12-01 }\n'),
    null,
  ],
  'jobs/a.gcode': [
    square(540),
    square(541),
    square(1800),
    `(kerflint-waive cut/marginal: proved)\n${square(1800)}`,
    null,
  ],
  'jobs/b.gcode': [null, square(540, 20)],
  'jobs/a.svg': [drawn(30), drawn(31), null],
  'jobs/shed-60w.machine.yaml': [null, MACHINE.replace('measured: 54 W', 'measured: 44 W')],
  'jobs/birch-plywood.material.yaml': [null, MATERIAL, MATERIAL.replace('class: usual', 'class: reconsider')],
  'machines/shed-60w.machine.yaml': [MACHINE, MACHINE.replace('measured: 54 W', 'measured: 49 W')],
  'jobs/shed-60w.bench.yaml': [null, BENCH],
  'machines/shed-60w.bench.yaml': [null, BENCH, BENCH.replace('through: true', 'through: false')],
  '.kerflint.yaml': [
    'kerflint: 1\nmachines: [machines]\n',
    'kerflint: 1\nmachines: [machines]\nrules: { cut/marginal: error }\n',
    'kerflint: 1\nmachines: [machines]\nrules: { cut/short-of-through: warning }\nbudget: 1 EUR\n',
    'kerflint: 1\nmachines: [machines]\nbudget: 0.01 EUR\n',
  ],
};
const OPTIONS: string[][][] = [
  [
    ['--today', '2026-11-25'],
    ['--today', '2026-12-02'],
  ],
  [
    [],
    ['--machine', 'shed-60w', '--material', 'birch-plywood', '--thickness', '3 mm'],
    ['--machine', 'shed-60w', '--material', 'birch-plywood', '--thickness', '6 mm'],
  ],
  [[], ['--lens', '1.5in']],
  [[], ['--shop', 'machines']],
  [[], ['--untrusted', '--shop', 'machines']],
];

type State = { files: Record<string, string | null>; options: string[][] };

/** One thing is changed and all else stays: what a key leaves out would come back from the state before. */
const edit = fc.oneof(
  fc.constantFrom(...Object.keys(FILES)).chain((name) =>
    fc.constantFrom(...FILES[name]!).map((content) => (state: State): void => {
      state.files[name] = content;
    }),
  ),
  fc.nat(OPTIONS.length - 1).chain((i) =>
    fc.constantFrom(...OPTIONS[i]!).map((said) => (state: State): void => {
      state.options[i] = said;
    }),
  ),
);

it('gives the result of a run without it, whatever was changed since it was filled', async () => {
  const cache = folder();
  await fc.assert(
    fc.asyncProperty(fc.array(edit, { minLength: 4, maxLength: 8 }), async (edits) => {
      const at = folder();
      const state: State = {
        files: Object.fromEntries(Object.entries(FILES).map(([name, [first = null]]) => [name, first])),
        options: OPTIONS.map(([first = []]) => first),
      };
      for (const change of [() => {}, ...edits]) {
        change(state);
        for (const [name, content] of Object.entries(state.files)) {
          mkdirSync(dirname(join(at, name)), { recursive: true });
          if (content === null) rmSync(join(at, name), { force: true });
          else writeFileSync(join(at, name), content);
        }
        const check = async (...more: string[]) => {
          const argv = ['check', 'jobs', '--format', 'json', ...state.options.flat(), ...more];
          const { code, stdout } = await kerflint(at, argv);
          return { code, stdout };
        };
        expect(await check('--cache', cache)).toEqual(await check());
      }
    }),
    { numRuns: 40 },
  );
});
