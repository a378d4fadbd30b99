import type { LeftOut } from './leave-out.ts';
import { percent, signed, table, three, two } from './markdown.ts';
import type { Scored } from './predictive.ts';
import type { Result } from './result.ts';
import { type Bin, central95, outcomeBins, rankBins, reliability } from './scores.ts';

/** Probabilities at which daily settings are asked about, and into how many parts the same is cut for a closer look. */
const RELIABILITY_AT = [0.1, 0.3, 0.5, 0.7, 0.9];
const RANK_BINS = 4;
const OUTCOME_BINS = 4;
/** What counts as a false pass. */
const PASS = 0.9;

/** The scores of the fit on shops that it has not seen. */
export function scoresSection(result: Result): string {
  const scored = result.leftOut.filter((one) => one.counts);
  const before = new Map(result.before.map((one) => [one.row.id, one]));
  return [
    '## How it does on shops that it has not seen',
    '',
    'Each source is left out in turn, everything is fitted to the others, and the product predicts the rows of the source that was left',
    'out as it would for a shop whose profile states what the source states. Rows of quality A and B count; those of quality C, and of',
    'machines that are worn or dirty by their own words, do not.',
    '',
    aims(result, scored, before),
    '',
    limitText(result),
    '',
    '### Are the probabilities right?',
    '',
    '**Daily settings.** A published daily setting cuts, so its mere outcome tells little. What it tells is where the boundary of that shop',
    'lies: at the setting less its margin (median 1.3, 1σ 20 %, which is added to the doubt). So for each of these shops and sheets it can be',
    'said whether the cut would have parted had the power been turned to where the product says P.',
    '',
    binTable(reliability(scored, RELIABILITY_AT), 'P(through)', 'parted'),
    '',
    'The same by quarters: at which share of what the product holds possible the boundary lies. Low: the product promised too much; high: too little.',
    '',
    binTable(rankBins(scored, RANK_BINS), 'boundary at this share', 'boundaries'),
    '',
    '**Single cuts**, and the sides of bracketed boundaries, by the probability that they were given.',
    '',
    binTable(outcomeBins(scored, OUTCOME_BINS), 'P(through)', 'parted'),
    '',
    'The intervals are those of independent counts; rows of one source err together, so they are too narrow, if anything.',
    '',
    '### By class',
    '',
    byClass(result, scored),
    '',
    falsePasses(scored),
  ].join('\n');
}

function aims(result: Result, scored: readonly LeftOut[], before: ReadonlyMap<string, Scored>): string {
  const { limit } = result;
  const not = scored.filter(({ row }) => row.cut.outcome === 'not');
  const passes = not.filter((one) => one.throughProbability >= PASS);
  const elsewhere = scored.filter((one) => one.seenElsewhere);
  const only = scored.filter((one) => !one.seenElsewhere);
  const total = (list: readonly { logScore: number }[]) => list.reduce((sum, one) => sum + one.logScore, 0);
  const earlier = (list: readonly LeftOut[]) => list.map((one) => before.get(one.row.id)!);
  const red = (list: readonly LeftOut[]) => {
    const daily = list.filter((one) => one.row.cut.use === 'daily');
    return `${daily.filter((one) => one.throughProbability < limit.limit).length} of ${daily.length}`;
  };
  const daily = scored.filter(({ row }) => row.cut.use === 'daily');
  const unlikely = (list: readonly Scored[]) => list.filter((one) => one.throughProbability < 0.5).length;
  return table(
    ['aim', 'found', 'met'],
    [
      [
        'at most 1 in 20 daily settings told "do not run"',
        `${red(scored)} at the limit of ${two(limit.limit)}`,
        limit.below <= limit.of / 20 ? 'yes' : 'no',
      ],
      ['… of materials that another source has', red(elsewhere), ''],
      ['… of materials whose only source is left out', red(only), ''],
      [
        'daily settings given less than one half',
        `${unlikely(daily)} of ${daily.length}; before the evidence ${unlikely(earlier(daily))}`,
        '',
      ],
      [
        `at most one cut that did not part with P ≥ ${PASS}`,
        `${passes.length} of ${not.length}`,
        passes.length <= 1 ? 'yes' : 'no',
      ],
      counted('counts within the 95 % interval: daily settings, by P', reliability(scored, RELIABILITY_AT)),
      counted('… daily settings, by quarters', rankBins(scored, RANK_BINS)),
      counted('… single cuts, by P', outcomeBins(scored, OUTCOME_BINS)),
      [
        'log score better than before the evidence',
        `${two(total(scored))} against ${two(total(earlier(scored)))}, ${scored.length} rows`,
        total(scored) > total(earlier(scored)) ? 'yes' : 'no',
      ],
      [
        '… of materials that another source has',
        `${two(total(elsewhere))} against ${two(total(earlier(elsewhere)))}, ${elsewhere.length} rows`,
        '',
      ],
      [
        '… of materials whose only source is left out',
        `${two(total(only))} against ${two(total(earlier(only)))}, ${only.length} rows`,
        '',
      ],
    ],
  );
}

function counted(aim: string, bins: readonly Bin[]): string[] {
  const inside = bins.filter(within).length;
  return [aim, `${inside} of ${bins.length} lines`, inside === bins.length ? 'yes' : 'no'];
}

const within = ({ seen, interval }: Bin) => seen >= interval.from && seen <= interval.to;

function binTable(bins: readonly Bin[], of: string, what: string): string {
  return table(
    [of, 'rows', `${what}, expected`, 'seen', '95 % interval', ''],
    bins.map((bin) => [
      bin.from === bin.to ? two(bin.from) : `${two(bin.from)}–${two(bin.to)}`,
      String(bin.rows),
      bin.expected.toFixed(1),
      String(bin.seen),
      `${bin.interval.from}–${bin.interval.to}`,
      within(bin) ? '' : 'outside',
    ]),
  );
}

function limitText({ limit, leftOut }: Result): string {
  const daily = leftOut.filter((one) => one.counts && one.row.cut.use === 'daily');
  const steps = [0.05, 0.1, 0.15, 0.2, 0.3, 0.4, 0.5];
  const shares = steps.map((step) => daily.filter((one) => one.throughProbability < step).length);
  const interval = central95(limit.of, 0.05);
  return [
    '### The error limit',
    '',
    'With nothing but the catalogue to go by, a cut is an error below the limit at which at most one daily setting in twenty falls below,',
    `between 0.1 and 0.5. **It is ${two(limit.limit)}.** The twentieth of all daily settings that it should cut off lies, at 95 %, between`,
    `${two(limit.from)} and ${two(limit.to)} (up to ${interval.to} of ${limit.of} rows below it may be chance): the rows are few.`,
    '',
    table(
      ['limit', ...steps.map(two)],
      [
        [`of ${daily.length} daily settings below it`, ...shares.map(String)],
        ['share', ...shares.map((count) => percent(count / daily.length))],
      ],
    ),
  ].join('\n');
}

function byClass(result: Result, scored: readonly LeftOut[]): string {
  const classes = [...new Set(scored.map((one) => one.row.materialClass))].sort();
  return table(
    [
      'class',
      'daily settings',
      'median P',
      `below ${two(result.limit.limit)}`,
      'mean ln(R/1.3)',
      'did not part',
      'highest P of them',
    ],
    classes.map((materialClass) => {
      const own = scored.filter((one) => one.row.materialClass === materialClass);
      const daily = own
        .filter((one) => one.row.cut.use === 'daily')
        .sort((a, b) => a.throughProbability - b.throughProbability);
      const not = own.filter((one) => one.row.cut.outcome === 'not');
      const middle = daily[Math.floor(daily.length / 2)];
      const bias = daily.reduce((sum, one) => sum + one.logRatio - Math.log(1.3), 0) / daily.length;
      return [
        materialClass,
        String(daily.length),
        middle ? two(middle.throughProbability) : '–',
        String(daily.filter((one) => one.throughProbability < result.limit.limit).length),
        daily.length > 0 ? signed(bias) : '–',
        String(not.length),
        not.length > 0 ? three(Math.max(...not.map((one) => one.throughProbability))) : '–',
      ];
    }),
  );
}

function falsePasses(scored: readonly LeftOut[]): string {
  const nearest = scored
    .filter(({ row }) => row.cut.outcome === 'not')
    .sort((a, b) => b.throughProbability - a.throughProbability)[0];
  if (nearest === undefined) return '';
  const { row } = nearest;
  const note = row.cut.note === null ? '' : ` (${row.cut.note})`;
  const alone = nearest.seenElsewhere
    ? ''
    : ' No other source has the material: nothing but the level of its class spoke for it.';
  return `The cut that did not part and was given the most is ${row.id}, ${row.material.name} of ${row.cut.thicknessMm} mm: P ${two(nearest.throughProbability)}${note}.${alone}`;
}
