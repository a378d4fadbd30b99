import { materialCaution } from '../../findings/caution.ts';
import type { TrialAnswer, TrialPlan, TrialRecipe } from '../../trial.ts';
import {
  formatChance,
  formatChanceShortOf,
  formatCount,
  formatDepth,
  formatFocus,
  formatMm,
  formatMoney,
  formatPercent,
  formatSpeed,
  formatTime,
  formatWatts,
} from '../../units/format.ts';
import { atStart } from '../../units/sentence.ts';
import type { Turning, WhatIfState } from './what-if-state.ts';

/** The values of a slider as they are read. */
export const TURNING_TEXTS: Record<Turning, (value: number) => string> = {
  setting: (value) => formatPercent(value),
  speedMmPerS: formatSpeed,
  passes: String,
  focusMm: formatFocus,
  focusStepMm: (value) =>
    value === 0 ? 'stays' : `${formatMm(Math.abs(value))} ${value < 0 ? 'lower' : 'higher'} each pass`,
};

/** A recipe in the list to choose from: "holes, rim: 1 pass at 85 %, 4.5 mm/s, 6 % likely to part". */
export function recipeText({ tasks, aim, settings, throughProbability }: TrialRecipe): string {
  const names =
    tasks.length > TASKS_NAMED ? [...tasks.slice(0, TASKS_NAMED), `${tasks.length - TASKS_NAMED} more`] : tasks;
  const chance =
    throughProbability === null || aim !== 'through' ? aim : `${formatChance(throughProbability)} likely to part`;
  const recipe =
    settings === null
      ? 'nothing planned'
      : `${formatCount(settings.passes, 'pass', 'passes')} at ${formatPercent(settings.setting)}, ${formatSpeed(settings.speedMmPerS)}`;
  return `${names.join(', ')}: ${recipe}, ${chance}`;
}

/** So many tasks of a recipe are named in the list. */
const TASKS_NAMED = 3;

/** "62 %", or no more of it than falls short of what is asked. */
export function chanceText({ cut, limit }: TrialAnswer): string | null {
  const chance = cut?.throughProbability ?? null;
  if (chance === null || cut?.aim !== 'through') return null;
  return limit !== null && chance < limit ? formatChanceShortOf(chance, limit) : formatChance(chance);
}

/** One line of the comparison. */
export interface ComparedRow {
  readonly label: string;
  readonly planned: string;
  readonly turned: string;
}

/** What is compared, as planned and as turned. */
export function comparedRows(planned: TrialAnswer, turned: TrialAnswer): ComparedRow[] {
  const row = (label: string, text: (answer: TrialAnswer) => string | null): ComparedRow => ({
    label,
    planned: text(planned) ?? NONE,
    turned: text(turned) ?? NONE,
  });
  return [
    row(limitText(planned), (answer) => chanceText(answer) ?? whyNoChance(answer)),
    row('Depth reached', depthText),
    row('Time of the job', ({ time }) => time && formatTime(time.totalS)),
    row('At stake', ({ waste }) => waste && formatMoney({ amount: waste.atStake, currency: waste.currency })),
    row('Loss to expect', ({ waste }) => waste && formatMoney({ amount: waste.expected, currency: waste.currency })),
    row('Power', ({ cut }) => passText(cut, ({ powerW }) => formatWatts(powerW))),
    row('Speed', ({ cut }) =>
      passText(cut, ({ speedMmPerS }) => (speedMmPerS === null ? null : formatSpeed(speedMmPerS))),
    ),
    row('Passes', ({ cut }) => (cut && cut.passes.length > 0 ? String(cut.passes.length) : null)),
    row('Focus', ({ cut }) => passText(cut, ({ focusMm }) => formatFocus(focusMm))),
    row('Lens', ({ lens }) => lens),
    row('Sheet', ({ materialName, thicknessMm }) =>
      materialName === null || thicknessMm === null ? null : `${formatMm(thicknessMm)} ${materialName}`,
    ),
  ];
}

function limitText({ limit }: TrialAnswer): string {
  return limit === null ? 'Likely to part' : `Likely to part (${formatChance(limit)} is asked)`;
}

/** What stands where there is nothing to say. */
const NONE = 'not known';

function whyNoChance({ cut, notPredicted }: TrialAnswer): string | null {
  return cut?.aim === 'through' || cut === null ? notPredicted : `need not: ${cut.aim}`;
}

function depthText({ cut, thicknessMm }: TrialAnswer): string | null {
  if (cut === null || cut.depthMm === null || cut.depthLowMm === null || cut.depthHighMm === null) return null;
  const of = thicknessMm === null ? '' : ` of ${formatMm(thicknessMm)}`;
  return `${formatDepth(cut.depthMm, cut.depthLowMm, cut.depthHighMm)}${of}`;
}

type CutPasses = NonNullable<TrialAnswer['cut']>['passes'];

/** A setting of the passes: once where all have it, else one after the other. */
function passText(cut: TrialAnswer['cut'], text: (pass: CutPasses[number]) => string | null): string | null {
  if (cut === null || cut.passes.length === 0) return null;
  const texts = cut.passes.map(text);
  const [first] = texts;
  return texts.every((one) => one === first) ? (first ?? null) : texts.map((one) => one ?? NONE).join(', then ');
}

/** What is said aloud when the answer has changed. */
export function answerSentence({ planned, turned }: WhatIfState): string {
  if (turned === null) return '';
  if (turned.never !== null) return `${atStart(turned.never)}.`;
  const chance = chanceText(turned);
  const before = planned && chanceText(planned);
  const was = before === null || before === chance ? '' : `, was ${before}`;
  const time = turned.time === null ? '' : ` The job takes ${formatTime(turned.time.totalS)}.`;
  const loss =
    turned.waste === null
      ? ''
      : ` Loss to expect: ${formatMoney({ amount: turned.waste.expected, currency: turned.waste.currency })}.`;
  const first =
    chance === null
      ? `${atStart(whyNoChance(turned) ?? 'not predicted')}.`
      : `${atStart(chance)} likely to part${was}.`;
  return `${first}${time}${loss}`;
}

/** What the sheet does under the beam, ahead of any proposal. */
export function cautionText({ materialName, hazard }: TrialAnswer): string {
  return materialCaution(materialName === null || hazard === null ? null : { name: materialName, hazard });
}

/** A material in the list, with what speaks against it. */
export function materialText({ name, hazard, verdict }: TrialPlan['materials'][number]): string {
  if (hazard === 'never') return `${name}: must not be cut`;
  return verdict === 'cuts' ? name : `${name}: not cut by this source`;
}
