import { CAUTION } from '../../findings/caution.ts';
import type { Cause } from '../../physics/diagnosis/causes.ts';
import type { CauseKind } from '../../physics/diagnosis/observation.ts';
import {
  formatChance,
  formatCount,
  formatDepth,
  formatFocus,
  formatMm,
  formatPercent,
  formatSpeed,
  formatWatts,
} from '../../units/format.ts';
import type { Diagnosis } from './diagnose-job.ts';

/** Causes that are hardly worth a test are left out of the text. */
const WORTH_SAYING = 0.02;

/** The diagnosis for the person beside the machine: likeliest cause first, each with its number and the test that tells it from the next. */
export function diagnosisReport(diagnosis: Diagnosis): string {
  const worth = diagnosis.causes.filter((cause, i) => i === 0 || cause.weight >= WORTH_SAYING);
  return [
    `${diagnosis.job}, task "${diagnosis.task}": ${formatMm(diagnosis.thicknessMm)} ${diagnosis.material}, ${recipeWords(diagnosis)}`,
    `Predicted depth ${formatDepth(diagnosis.depthMm, diagnosis.depthLowMm, diagnosis.depthHighMm)}, ${formatChance(diagnosis.throughProbability)} likely to part. Seen: ${seenWords(diagnosis)}.`,
    '',
    'What would explain it, likeliest first:',
    '',
    ...worth.flatMap((cause, i) => causeLines(cause, worth[i + 1] ?? null, diagnosis)),
    ...rescueLines(diagnosis),
    'Let it cool and clear the smoke first. Before you touch lens or mirrors, switch off, and keep to the manual.',
    CAUTION,
    '',
  ].join('\n');
}

function recipeWords({ passes }: Diagnosis): string {
  const [first] = passes;
  if (first === undefined) return 'no pass';
  return `${formatCount(passes.length, 'pass', 'passes')} of ${formatWatts(first.powerW)} at ${formatSpeed(first.speedMmPerS)}`;
}

function seenWords({ seen }: Diagnosis): string {
  const parts = [
    seen.depthMm === null ? 'it did not part' : `${formatMm(seen.depthMm)} deep`,
    seen.where,
    seen.kerfMm === null ? null : `kerf ${formatMm(seen.kerfMm, 2)}`,
    seen.since === null ? null : SINCE_WORDS[seen.since],
    seen.edge === null ? null : `edge ${seen.edge}`,
  ];
  return parts.filter((part) => part !== null).join(', ');
}

const SINCE_WORDS = {
  always: 'always so',
  gradually: 'worse little by little',
  suddenly: 'since lately, all at once',
  'this-sheet': 'only in this sheet',
} as const;

function causeLines(cause: Cause, next: Cause | null, diagnosis: Diagnosis): string[] {
  const lines = [`${formatPercent(cause.weight, 0).padStart(5)}  ${causeWords(cause, diagnosis)}`];
  lines.push(`       Test: ${testWords(cause, next, diagnosis)}`, '');
  return lines;
}

/** The cause with the number that would make the model reach what was seen. */
export function causeWords(cause: Cause, diagnosis: Diagnosis): string {
  switch (cause.kind) {
    case 'settings-short':
      return `The settings are short for this sheet: as planned it was ${formatChance(cause.throughProbability ?? 0)} likely to part.`;
    case 'focus-off': {
      const off = cause.focusOffMm ?? 0;
      return `The focus is off: ${formatMm(Math.abs(off), 1)} too ${off > 0 ? 'high' : 'low'} would explain it.`;
    }
    case 'power-weak': {
      const factor = cause.powerFactor ?? 1;
      return `The source is weaker than the profile says: ${formatPercent(factor, 0)} of it, ${formatWatts(diagnosis.fullW * factor)} at full setting in place of ${formatWatts(diagnosis.fullW)}.`;
    }
    case 'mirrors-drifting':
      return `A mirror has drifted: only ${formatPercent(cause.powerFactor ?? 1, 0)} of the power would arrive where it failed.`;
    case 'lens-dirty':
      return `The lens is dirty or damaged: it would let ${formatPercent(cause.powerFactor ?? 1, 0)} of the power through.`;
    case 'material-harder':
      return `The sheet is harder to cut than its entry says (glue, a denser batch, damp): by ${formatPercent((cause.removalFactor ?? 1) - 1, 0)}.`;
    case 'sheet-bowed':
      return `The sheet does not lie flat: ${formatMm(cause.bowMm ?? 0, 1)} from its lowest to its highest would explain it.`;
    case 'sheet-thicker':
      return `The sheet is thicker than declared: ${formatMm(cause.thicknessMm ?? 0, 1)} in place of ${formatMm(diagnosis.thicknessMm)}.`;
  }
}

/** Tests that tell two causes apart better than the first one's own. */
const BETWEEN: Partial<Record<`${CauseKind} ${CauseKind}`, string>> = {
  'power-weak lens-dirty': 'read the power before the lens and under it. A clean lens takes but a few percent.',
  'focus-off sheet-bowed':
    'lay a straightedge over the sheet where it failed. If it lies flat, cut a focus ramp (kerflint ramp).',
  'power-weak mirrors-drifting':
    'read the power at the near and at the far corner. Alike and low: the source; unlike: a mirror.',
  'material-harder sheet-thicker':
    'measure the thickness where it failed, at three places. If it is as declared, cut the same tongue in another sheet.',
  'material-harder settings-short':
    'cut the same tongue in a sheet of another batch. If it fails there too, the settings are short.',
  'sheet-bowed material-harder':
    'weigh the sheet down flat and cut a tongue beside a place that failed. If it fails again, it is the sheet itself.',
};

const OWN_TEST: Record<CauseKind, (cause: Cause, diagnosis: Diagnosis) => string> = {
  'settings-short': () =>
    'cut a test piece (kerflint coupon). If its tongues part as predicted, nothing is wrong but the settings.',
  'focus-off': () => 'cut a focus ramp (kerflint ramp). It tells the offset; kerflint calibrate keeps it.',
  'power-weak': (cause, { fullW }) =>
    `read the power at the work at full setting. About ${formatWatts(fullW * (cause.powerFactor ?? 1))} confirms it.`,
  'mirrors-drifting': () =>
    'cut one test piece at the near and one at the far corner (kerflint coupon --corner far). Unlike results confirm it.',
  'lens-dirty': () =>
    'switch off, take the lens out and look through it; clean it as its maker says, and cut the same tongue again.',
  'material-harder': () => 'cut the same tongue in another sheet, and in another place of this one.',
  'sheet-bowed': () => 'lay a straightedge over the sheet, or weigh it down flat and cut the same tongue again.',
  'sheet-thicker': () => 'measure the thickness where it failed, at three places.',
};

function testWords(cause: Cause, next: Cause | null, diagnosis: Diagnosis): string {
  if (next === null) return OWN_TEST[cause.kind](cause, diagnosis);
  const between = BETWEEN[`${cause.kind} ${next.kind}`] ?? BETWEEN[`${next.kind} ${cause.kind}`];
  return between ?? OWN_TEST[cause.kind](cause, diagnosis);
}

function rescueLines({ rescue, seen, passes }: Diagnosis): string[] {
  if (seen.depthMm === null) {
    return [
      'If the sheet has not moved: say how deep it is (--depth), and the passes that would still part it are worked out.',
      '',
    ];
  }
  if (rescue === null) {
    return [
      'If the sheet has not moved: a few more passes as before would hardly part it. Do not go on by guess; it only chars.',
      '',
    ];
  }
  const [extra] = rescue.extraPasses;
  const focusMm = extra?.focusMm ?? 0;
  const moved = focusMm === passes.at(-1)?.focusMm ? 'at the same focus' : `with the focus set ${formatFocus(focusMm)}`;
  return [
    `If the sheet has not moved: ${formatCount(rescue.extraPasses.length, 'more pass', 'more passes')} of ${formatWatts(extra?.powerW ?? 0)} at ${formatSpeed(extra?.speedMmPerS ?? 0)}, ${moved}, ${rescue.extraPasses.length === 1 ? 'is' : 'are'} ${formatChance(rescue.throughProbability)} likely to part it.`,
    '',
  ];
}
