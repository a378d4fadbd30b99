import { assumptionText, classDefaults, lensIdOf } from '../src/job/machine/class-defaults.ts';
import type { SourceKind } from '../src/job/model.ts';
import { fixed } from '../src/units/format.ts';
import type { Generated } from './generate.ts';

/** Machines that the page shows the defaults of: what people commonly have. */
const SHOWN: readonly { kind: SourceKind; ratedW: number; focalMm: number; words: string }[] = [
  { kind: 'co2', ratedW: 40, focalMm: 50.8, words: 'CO₂ tube, 40 W, 2 in lens' },
  { kind: 'co2', ratedW: 100, focalMm: 101.6, words: 'CO₂ tube, 100 W, 4 in lens' },
  { kind: 'diode', ratedW: 10, focalMm: 40, words: 'diode, 10 W, 40 mm lens' },
  { kind: 'fibre', ratedW: 30, focalMm: 160, words: 'fibre, 30 W, 160 mm lens' },
];

/** What a machine profile must say, and what is taken where it says nothing more: every default with its spread and where it comes from. */
export function machinePage(): Generated {
  const row = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  const tables = SHOWN.flatMap(({ kind, ratedW, focalMm, words }) => {
    const id = lensIdOf(focalMm);
    return [
      '',
      `### ${words}`,
      '',
      row(['key', 'taken', '1σ', 'basis']),
      row(['---', '---', '---', '---']),
      ...classDefaults({ kind, ratedW, lenses: [{ id, focalMm }] }).map((one) =>
        row([
          `\`${one.key}\``,
          assumptionText(one),
          one.spread === 0 ? '–' : `${fixed(one.spread * 100, 0)} %`,
          one.basis,
        ]),
      ),
    ];
  });
  return new Map([['docs/machine.md', [...TOP, ...tables, ''].join('\n')]]);
}

const TOP = [
  '# The machine profile',
  '',
  'Written by `npm run generate` from `src/job/machine/class-defaults.ts`.',
  '',
  '`<id>.machine.yaml` says what a laser cutter is. Four things must stand in it; `kerflint schema machine` has all keys.',
  '',
  '```yaml',
  'kerflint: 1',
  'id: garden-40w                                # also the name of the file',
  'source: { kind: co2, rated: 40 W }            # co2, diode or fibre; the power on the label',
  'lenses: [{ focal: 2 in }]                     # its id is then 2in; 50 mm would be 50mm',
  'travel: { x: 500 mm, y: 300 mm }',
  'controller: { power: { word: S, full: 1000 } }  # needed for toolpaths only',
  '```',
  '',
  '**The power scale is never assumed.** S255 read on a scale of 1000 is wrong by four. Without `controller.power` artwork is judged as ever,',
  'and a job with a toolpath is incomplete and says so. The value that gives full power stands in the settings of the controller or in its manual.',
  'Where a program seems to count on another scale than the profile says (S204 of 1000 where 80 % is planned; exactly 255 of 1000 where nothing',
  'is), that is said first, `power/scale-mismatch`; what rests on watts is held back, and the job is not judged until the scale is settled.',
  '',
  '**What else is left out is taken from the class of the source,** as the tables below have it. How far off such a value may be is carried into',
  'the depth ([model.md](model.md#doubt)): a profile that says less gives a wider band. Each result says in one line what was assumed and which',
  'single measurement would narrow the depth most; JSON has it under `assumed` and `narrows`. The power that reaches the work counts among it',
  'until it was measured. A limit that is assumed is never told as one of the profile: to be above an assumed maximum, or below an assumed',
  'firing floor, is a note. What the beam does when nobody asks (`beam-off-on-rapid`, `beam-off-when-stopped`, `block-delete`) is not',
  'assumed either: it stays unknown, and the rules that need it say so.',
  '',
  '`air: { on: M8, off: M9 }` (or M7) says how the air is switched; only then does `kerflint fix` write these words ([fix.md](fix.md)).',
  '`air.maximum` is the most that the supply gives.',
  '',
  '`invented: true` marks the numbers of a profile as made up for a demonstration; every result then says so. The machines that come with',
  'kerflint are of that kind.',
  '',
  '## What is taken, and how far off it may be',
  '',
  'A spread is one standard deviation of the logarithm; a dash: it is not carried into the depth. Most of these numbers are **memory**: no one',
  'source that could be read has them. They are a beginning and no measurement: the rating on a label, the focal length on a holder and a beam',
  'that nobody has seen are worth less than one reading of a power meter. Follow the manuals of the meter and of the machine.',
];
