import { inARow } from '../../units/in-a-row.ts';

/** Other coupons that are named one by one. */
const MOST_NAMED = 5;

/** A coupon that contradicts others. */
interface OddOneOut {
  row: number;
  parted: boolean;
  against: number[];
}

/** Contradicting pairs by the coupon that most of them share: one that was misread contradicts many. The worst first. */
function oddOnesOut(pairs: readonly { parted: number; stayed: number }[]): OddOneOut[] {
  const counts = new Map<number, number>();
  for (const row of pairs.flatMap(({ parted, stayed }) => [parted, stayed]))
    counts.set(row, (counts.get(row) ?? 0) + 1);
  const found = new Map<number, OddOneOut>();
  for (const { parted, stayed } of pairs) {
    const isParted = counts.get(parted)! >= counts.get(stayed)!;
    const [row, other] = isParted ? [parted, stayed] : [stayed, parted];
    const known = found.get(row);
    if (known) known.against.push(other);
    else found.set(row, { row, parted: isParted, against: [other] });
  }
  return [...found.values()].sort((a, b) => b.against.length - a.against.length);
}

/** All that contradicts each other, as one finding: the worst coupon with those against it, and the rest by name. Null when nothing does. */
export function contradictionText(
  pairs: readonly { parted: number; stayed: number }[],
  name: (index: number) => string,
): string | null {
  const [worst, ...rest] = oddOnesOut(pairs);
  if (worst === undefined) return null;
  const { row, parted, against } = worst;
  const seen = parted
    ? `parted with less energy than ${named(against, name)}, which did not`
    : `did not part with more energy than ${named(against, name)}, which did`;
  const misread = against.length === 1 ? 'One of the two is misread' : `${name(row)} is probably misread`;
  const also =
    rest.length === 0
      ? ''
      : ` So ${rest.length === 1 ? 'does' : 'do'} ${named(
          rest.map((one) => one.row),
          name,
        )} contradict others.`;
  return `Contradiction: ${name(row)} ${seen}.${also} ${misread}, or the sheet varies: look again. Until it is settled the spread stays wide.`;
}

function named(rows: readonly number[], name: (index: number) => string): string {
  const shown = rows.slice(0, MOST_NAMED).map(name);
  return inARow(rows.length > MOST_NAMED ? [...shown, `${rows.length - MOST_NAMED} more`] : shown, 'and');
}
