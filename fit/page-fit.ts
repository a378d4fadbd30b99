import { COUPLING } from '../src/physics/coupling.ts';
import { PLUS_MINUS_SIGMAS } from '../src/units/plus-minus.ts';
import { MARGIN, ROW_SD, SHEET_SD, SHEET_WEIGHT, SHOP_REST_SD, SHOP_SD } from './assumptions.ts';
import { classOf, type MaterialClass } from './classes.ts';
import { canBeFitted } from './leave-out.ts';
import { percent, signed, table, three, two } from './markdown.ts';
import { countOf } from './material-files.ts';
import { estimate, type Fit } from './optimise.ts';
import type { Result } from './result.ts';
import type { Row } from './rows.ts';

/** What the fit found: levels, offsets of sources, and the values that the material files hold. */
export function fitSection(result: Result): string {
  const { found } = result;
  const rows = result.rows.filter(canBeFitted);
  return [
    '## What was fitted',
    '',
    `${countOf(rows)}, all of CO₂; ${found.posterior.parameters.length} unknowns, most of them held by what is believed of them beforehand`,
    '(`fit/assumptions.ts`). Offsets are natural logarithms, with 1σ.',
    '',
    table(['unknown', 'found', '1σ'], shared(found)),
    '',
    'The offset of a source is what its rows say of it as a whole: above 0, it cuts more than its stated power and the spot taken for it',
    'would let expect.',
    '',
    table(
      ['source', 'offset', '1σ'],
      unknowns(found, /^source (.*)$/).map(({ name, mean, sd }) => [name, signed(mean), two(sd)]),
    ),
    '',
    '### Spread between shops',
    '',
    `One source differs from another by ${percent(SHOP_SD)} (1σ, taken beforehand; twice that where its rating is a guess): its true power, which the`,
    `product doubts by itself, and ${percent(SHOP_REST_SD)} for spot, focus, air and optics. Its sheets of a material differ from another's by what the`,
    `rows say, ${percent(SHEET_SD)} being believed beforehand with the weight of ${SHEET_WEIGHT} sheets. So few materials stand in more than one source that the`,
    'rows move that belief hardly at all.',
    '',
    table(['class', 'rows', 'sheets, 1σ', 'between shops in all, 1σ'], betweenShops(found, rows)),
    '',
    '### The values',
    '',
    'Spread: what the rows leave open of the material itself, its sheets from shop to shop, what a shop’s optics and air differ by',
    `(${percent(SHOP_REST_SD)}), and one cut from the next (${percent(ROW_SD.A)}), as the root of the sum of squares. What a rated power is in doubt by, the focus,`,
    'the thickness and the divergence share are not in it: the prediction adds them.',
    '',
    table(['material', 'rows', 'before, J/mm³', 'fitted, J/mm³', 'its own, 1σ', 'spread'], values(result, rows)),
  ].join('\n');
}

function unknowns(found: Fit, pattern: RegExp): { name: string; mean: number; sd: number }[] {
  return found.posterior.parameters.flatMap((parameter) => {
    const name = pattern.exec(parameter.name)?.[1];
    return name === undefined ? [] : [{ name, ...estimate(found, [{ parameter, coefficient: 1 }]) }];
  });
}

function shared(found: Fit): string[][] {
  const line = (label: string, { mean, sd }: { mean: number; sd: number }) => [label, signed(mean), two(sd)];
  const [level] = unknowns(found, /^(level of what chars)$/);
  const [exponent] = unknowns(found, /^(exponent of the density)$/);
  const [spot] = unknowns(found, /^spot of (.*)$/);
  const [share] = unknowns(found, /^divergence at (.*)$/);
  return [
    line('level of what chars (energy over the earlier)', level!),
    ...unknowns(found, /^class (.*)$/).map((one) => line(`class: ${one.name}`, one)),
    line('exponent of the density beyond 1', exponent!),
    ['spot of the pine measurements, mm', three(Math.exp(spot!.mean)), `× ${two(Math.exp(spot!.sd))}`],
    line('divergence share there, as a normal score', share!),
  ];
}

function betweenShops(found: Fit, rows: readonly Row[]): string[][] {
  return (Object.keys(found.sheetSd) as MaterialClass[]).sort().map((materialClass) => {
    const sheets = found.sheetSd[materialClass];
    const own = rows.filter((row) => row.materialClass === materialClass);
    return [materialClass, countOf(own), percent(sheets), percent(Math.hypot(SHOP_SD, sheets))];
  });
}

function values({ catalogue, values: all }: Result, rows: readonly Row[]): string[][] {
  return [...catalogue.values()].flatMap((material) => {
    const value = all.get(material.id);
    if (value === undefined || classOf(material) === null) return [];
    const own = rows.filter((row) => row.material.id === material.id);
    return [
      [
        material.id,
        own.length === 0 ? '–' : countOf(own),
        String(material.removal!.before!.jPerMm3),
        String(value.jPerMm3),
        percent(value.ownSd),
        percent(value.spread),
      ],
    ];
  });
}

/** What else was tried, and what came of it. */
export function trialsSection({ trials }: Result): string {
  const kept = trials[0]!;
  const bent = trials.find((trial) => trial.settingExponent !== null)?.settingExponent;
  return [
    '## What was tried',
    '',
    'Each change alone, everything fitted anew. Evidence: ln of the probability of all rows, the unknowns integrated over, against what is kept.',
    'Left out: ln of the probability of the rows that count, each predicted without its source, by the fit’s own normal distribution. 2 or more',
    'speak for a change, less is chance. Twentieth: the probability below which one daily setting in twenty falls.',
    '',
    table(
      ['change', 'evidence', 'left out', 'twentieth', 'level of what chars'],
      trials.map((trial) => [
        trial.name,
        trial === kept ? '0' : signed(trial.logEvidence - kept.logEvidence),
        trial === kept ? '0' : signed(trial.leftOutScore - kept.leftOutScore),
        two(trial.twentieth),
        `${signed(trial.charLevel.mean)} ± ${two(trial.charLevel.sd * PLUS_MINUS_SIGMAS)}`,
      ]),
    ),
    '',
    bent === undefined || bent === null
      ? ''
      : `Let free, the exponent on the setting comes out at ${signed(bent.mean)} ± ${two(bent.sd * PLUS_MINUS_SIGMAS)} beyond 1: the watts of these tubes may as well be in proportion.`,
    `Other margins change what the same rows score, so their "left out" says which margin the rows themselves would have, not which to take: ${MARGIN} is kept.`,
  ].join('\n');
}

/** Held against the diode's coupling, which the rows did not set. */
export function diodeSection({ shipped }: Result): string {
  const { energyFactor, spread } = COUPLING.diode;
  const rows = shipped.filter(({ row }) => row.evidence.machine!.kind === 'diode');
  return [
    '## Diodes',
    '',
    `A diode asks for ${energyFactor} times the energy of a CO₂ source, × or ÷ ${two(Math.exp(spread))} (1σ): a belief, from memory. The rows of ${new Set(rows.map(({ row }) => row.evidence.id)).size} shops are too few to fit`,
    'it and are only held against it. What each row would ask for if the plywood were the catalogue’s:',
    '',
    table(
      ['row', 'outcome', 'P(through)', 'energy over that of a CO₂ source'],
      rows.map(({ row, throughProbability, logRatio }) => [
        row.id,
        row.cut.outcome,
        two(throughProbability),
        `${row.cut.outcome === 'cut' ? 'less' : 'more'} than ${two(energyFactor * Math.exp(logRatio))}`,
      ]),
    ),
  ].join('\n');
}
