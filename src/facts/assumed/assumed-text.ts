import { formatBand } from '../../units/format.ts';
import { inARow } from '../../units/in-a-row.ts';
import type { AssumedKey, Narrowing } from './assumed-fact.ts';

/** As results carry it; older ones do not. */
interface Assumptions {
  readonly assumed?: readonly AssumedKey[];
  readonly narrows?: Narrowing | null;
}

/** So many assumptions are named where none of them is in doubt. */
const ASSUMED_NAMED = 3;

/** The measurements that a person can make, by the key that they fill in. */
const MEASUREMENTS: readonly (readonly [key: RegExp, text: string])[] = [
  [/^source\.measured$/, 'A measured power'],
  [/^beam\.diameter$/, 'A measured beam diameter at the lens'],
  [/^beam\.m2$/, 'A stated M²'],
  [/^lenses\..*\.spot$/, 'A measured spot'],
];

/**
 * What of the machine was assumed and which single measurement would narrow the depth most, in one line: "Assumed, as the profile does not say:
 * source.measured 40 W, beam.diameter 5 mm and 9 more. A measured power would take the depth from ± 38 % to ± 24 %." Empty where nothing was.
 */
export function assumedText({ assumed = [], narrows = null }: Assumptions): string {
  if (assumed.length === 0) return '';
  const inDoubt = assumed.filter((one) => one.inDoubt);
  const named = inDoubt.length > 0 ? inDoubt : assumed.slice(0, ASSUMED_NAMED);
  const shown = named.map(({ key, value, unit }) => `${key} ${value}${unit === null ? '' : ` ${unit}`}`);
  const rest = assumed.length - named.length;
  const list = inARow(rest === 0 ? shown : [...shown, `${rest} more`], 'and');
  return `Assumed, as the profile does not say: ${list}.${narrowsText(narrows)}`;
}

function narrowsText(narrows: Narrowing | null): string {
  if (!narrows) return '';
  const what = MEASUREMENTS.find(([key]) => key.test(narrows.key))?.[1] ?? `A stated ${narrows.key}`;
  return ` ${what} would take the depth from ${formatBand(narrows.fromShare)} to ${formatBand(narrows.toShare)}.`;
}

/** That the machine is made up, where its profile says so; else empty. */
export function inventedText(machine: string | null, invented: boolean): string {
  return invented
    ? `The numbers of ${machine ?? 'the machine'} are invented, for a demonstration: put in your own before you cut.`
    : '';
}
