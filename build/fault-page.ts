import { FAULT_TEXTS } from '../src/bench/diagnosis/cause-texts.ts';
import {
  CHECK_MINUTES,
  FAULTS,
  THICKNESS_TOLERANCE,
  UPSIDE_DOWN_LOWER_MM,
} from '../src/physics/diagnosis/fault-table.ts';
import type { FaultKind, Range } from '../src/physics/diagnosis/observation.ts';
import { fixed, trimmed } from '../src/units/format.ts';
import type { Generated } from './generate.ts';

const KINDS = Object.keys(FAULTS) as FaultKind[];

const UNITS: Record<Range['quantity'], string> = {
  powerFactor: 'of the power',
  removalFactor: 'times the energy per mm³',
  focusOffMm: 'mm too high or too low',
  bowMm: 'mm from lowest to highest',
  tiltMm: 'mm at the far corner',
  thickerMm: 'mm',
  waistLowerMm: 'mm lower',
};

/** From the mildest to the worst, and up to where most are. */
function sizeWords(kind: FaultKind): string {
  const { size } = FAULTS[kind];
  if (kind === 'sheet-thicker') return `up to ${THICKNESS_TOLERANCE.share * 100} % and ${THICKNESS_TOLERANCE.mm} mm`;
  if (kind === 'lens-upside-down') {
    const { 'plano-convex': flat, meniscus } = UPSIDE_DOWN_LOWER_MM;
    return `more blur; waist ${flat.mild} to ${flat.worst} mm lower (meniscus ${meniscus.mild} to ${meniscus.worst} mm), or as before where the focus was set anew`;
  }
  if (size === null) return '–';
  const { quantity, mild, worst, usual } = size;
  if (quantity === 'powerFactor')
    return `${percent(mild)} to ${percent(worst)} ${UNITS[quantity]}, most to ${percent(Math.exp(-usual))}`;
  const most = quantity === 'removalFactor' ? Math.exp(usual) : usual;
  return `${mild} to ${worst} ${UNITS[quantity]}, most to ${trimmed(most, 1)}`;
}

const percent = (share: number): string => `${fixed(share * 100, 0)} %`;
const shares = (all: Record<string, number>): string =>
  Object.values(all)
    .map((share) => trimmed(share * 100, 0))
    .join(' / ');

/** What a failed cut is put down to: every number that the diagnosis goes by, and where it comes from. */
export function faultPage(): Generated {
  const row = (cells: readonly (string | number)[]) => `| ${cells.join(' | ')} |`;
  const head = (cells: readonly string[]) => [row(cells), row(cells.map(() => '---'))];
  const text = [
    '# What a failed cut is put down to',
    '',
    'Written by `npm run generate` from `src/physics/diagnosis/fault-table.ts`: the numbers that `kerflint diagnose` goes by.',
    'How it uses them, and how far they carry, stands in [bench.md](bench.md#diagnose).',
    '',
    '**The odds, the minutes and the shares by sign are memory**: no one has counted such faults where we could read it. They say in which',
    'order to look, and no more. Sizes come from where their column says.',
    '',
    '## How large a fault is met',
    '',
    'A cause is named with no size beyond its range. Inside it, a fault of `x` times the size up to which most are is held for',
    '(1 + x²)^−1.5 as common as the mildest; factors are compared by their logarithms.',
    '',
    ...head(['fault', 'size', 'from', 'odds', 'minutes of its check']),
    ...KINDS.map((kind) => {
      const { before, sizeSource, cause } = FAULTS[kind];
      const odds = kind === 'lens-wrong' ? `${before} for each other lens` : before;
      return row([FAULT_TEXTS[kind].name, sizeWords(kind), sizeSource, odds, CHECK_MINUTES[cause]]);
    }),
    '',
    'Lens dirty, cracked or upside down are one cause, since one look at the lens tells; so are a denser sheet and another material. Where glue',
    'is known to hide in a material it counts twice.',
    '',
    '## How it shows',
    '',
    'Shares in per cent.',
    '',
    ...head([
      'fault',
      'everywhere / far corner / patches',
      'always / gradually / suddenly / this sheet',
      'edge clean / charred / wide',
    ]),
    ...KINDS.map((kind) => {
      const { where, since, edge } = FAULTS[kind];
      return row([FAULT_TEXTS[kind].name, shares(where), shares(since), shares(edge)]);
    }),
    '',
  ].join('\n');
  return new Map([['docs/faults.md', text]]);
}
