import type { CauseKind, FaultKind } from '../../physics/diagnosis/observation.ts';
import { formatDepth, formatMm, formatPercent, formatWatts, significant } from '../../units/format.ts';
import type { Diagnosis } from './diagnose-job.ts';

type Cause = Diagnosis['causes'][number];
type Explanation = Cause['explanations'][number];
type Words = (explanation: Explanation, diagnosis: Diagnosis) => string;

/** "45 % of the power, 24.3 W of 54 W": the watts are those at full setting. */
const powerWords: Words = ({ value }, { fullW }) => {
  const factor = value ?? 1;
  return `${formatPercent(factor, 0)} of the power, ${formatWatts(fullW * factor)} of ${formatWatts(fullW)}`;
};

const energy = (jPerMm3: number): string => `${significant(Number(jPerMm3.toPrecision(3)))} J/mm³`;

/** "as if it took 5.7 J/mm³, not 3 J/mm³". */
const removalWords: Words = ({ removalJPerMm3 }, diagnosis) =>
  `as if it took ${energy(removalJPerMm3)}, not ${energy(diagnosis.removalJPerMm3)}`;

const spotWords: Words = ({ spotMm }, diagnosis) => `spot ${formatMm(spotMm, 3)}, not ${formatMm(diagnosis.spotMm, 3)}`;

const focusedWords = ({ refocused }: Explanation): string => `${refocused ? '' : 'not '}focused anew`;

const density = (gPerCm3: number): string => `${significant(Number(gPerCm3.toPrecision(2)))} g/cm³`;

/** What each fault is called, and its size with a unit. */
export const FAULT_TEXTS: Record<FaultKind, { name: string; size: Words }> = {
  'settings-short': {
    name: 'settings short',
    size: (_, { depthMm, depthLowMm, depthHighMm, thicknessMm }) =>
      `${formatDepth(depthMm, depthLowMm, depthHighMm)} predicted of ${formatMm(thicknessMm)}`,
  },
  'air-low': { name: 'air off or low', size: removalWords },
  'panel-changed': { name: 'power turned down at the panel', size: powerWords },
  'focus-off': { name: 'focus off', size: ({ value, choice }) => `${formatMm(value ?? 0, 1)} too ${choice}` },
  'lens-dirty': { name: 'lens dirty', size: powerWords },
  'lens-cracked': { name: 'lens cracked or burnt', size: powerWords },
  'lens-upside-down': {
    name: 'lens upside down',
    size: (explanation, diagnosis) =>
      `${spotWords(explanation, diagnosis)}, ${explanation.value === null ? focusedWords(explanation) : `waist ${formatMm(explanation.value, 1)} too low`}`,
  },
  'lens-wrong': {
    name: 'wrong lens',
    size: (explanation, diagnosis) =>
      `${explanation.choice} ${focusedWords(explanation)}, ${spotWords(explanation, diagnosis)}`,
  },
  'source-weak': { name: 'source aged or too warm', size: powerWords },
  'mirrors-drifting': { name: 'mirror drifted or dirty', size: powerWords },
  'bed-out-of-level': { name: 'bed out of level', size: ({ value }) => `${formatMm(value ?? 0, 1)} where it failed` },
  'sheet-bowed': {
    name: 'sheet not flat',
    size: ({ value }) => `${formatMm(value ?? 0, 1)} from its lowest to its highest`,
  },
  'sheet-thicker': {
    name: 'sheet thicker than declared',
    size: ({ thicknessMm }, diagnosis) => `${formatMm(thicknessMm)}, not ${formatMm(diagnosis.thicknessMm)}`,
  },
  glue: { name: 'glue or a knot inside', size: removalWords },
  'sheet-denser': { name: 'a denser sheet', size: removalWords },
  'material-wrong': {
    name: 'another material',
    size: (explanation, { materialNames, removalJPerMm3 }) =>
      `${materialNames[explanation.choice ?? '']} takes ${energy(explanation.removalJPerMm3)}, not ${energy(removalJPerMm3)}`,
  },
};

/** The one check at the machine that shows whether it is this cause. */
export const CHECKS: Record<CauseKind, Words> = {
  'settings-short': () => 'cut a test piece (kerflint coupon): if it parts as predicted, nothing is broken',
  'air-low': () => 'see that air blows from the nozzle as usual: pump, valve, hose',
  'panel-changed': () => 'read power and speed on the panel: knob, limit, override',
  'focus-off': () => 'set the focus again with the gauge on this sheet where it failed',
  'lens-at-fault': () =>
    'switch off, no bare hands, look at the lens: dirt (clean it as its maker says), a crack, a bulge that is not up towards the beam',
  'lens-wrong': (_, { focalMm }) => `read the focal length on the lens: ${formatMm(focalMm)} belongs there`,
  'source-weak': ({ value }, { sourceKind, fullW }) =>
    `${sourceKind === 'co2' ? 'see how warm its water is; ' : ''}meter the power at the work at full setting: ${formatWatts(fullW * (value ?? 1))} confirms it`,
  'mirrors-drifting': () => 'cut the same short line at the near and at the far corner',
  'bed-out-of-level': () => 'hold the gauge under the nozzle at the near and the far corner',
  'sheet-bowed': () => 'lay a straightedge over the sheet where it failed; press on it',
  'sheet-thicker': () => 'measure the thickness where it failed, at three places',
  glue: () => 'cut the same shape a hand away; break the failed place open',
  'sheet-other': (_, { densityGPerCm3, neverCutAlike }) =>
    `read its label, weigh an offcut: ${density(densityGPerCm3)} is usual; cut nothing that nobody can name${neverCutAlike.length === 0 ? '' : ` (it may be ${neverCutAlike.join(' or ')})`}`,
};

/** Causes that leave the depth as it was predicted. */
const NO_DEPTH: readonly FaultKind[] = ['settings-short', 'sheet-thicker'];
/** Faults of which more than one way is told; of the others the smaller fault is enough. */
const TELLS_ALL: readonly FaultKind[] = ['focus-off', 'lens-wrong', 'material-wrong'];

/**
 * The likeliest fault of a cause with its size, or both that fit: "Focus off: 3.9 mm too high, or 5.6 mm too low."; its other faults by name.
 */
export function causeWords({ explanations }: Cause, diagnosis: Diagnosis): string {
  const { fault } = explanations[0]!;
  const { name, size } = FAULT_TEXTS[fault];
  const its = explanations.filter((each) => each.fault === fault).slice(0, TELLS_ALL.includes(fault) ? undefined : 1);
  const others = new Set(explanations.map((each) => each.fault).filter((each) => each !== fault));
  const sizes = its.map((each) => size(each, diagnosis)).join(', or ');
  const besides = [...others].map((each) => `; or ${FAULT_TEXTS[each].name}`).join('');
  return `${name.charAt(0).toUpperCase()}${name.slice(1)}: ${sizes}${expectedWords(its[0]!)}${besides}.`;
}

/** What the cut would reach where that is not just what was seen. */
function expectedWords({ fault, fit, depthMm, depthLowMm, depthHighMm }: Explanation): string {
  if (fit === 'reproduces' || NO_DEPTH.includes(fault)) return '';
  return `; gives ${formatDepth(depthMm, depthLowMm, depthHighMm)}`;
}

/** What a cause is called where its fault is not told: "lens dirty". */
export function causeName({ explanations }: Cause): string {
  return FAULT_TEXTS[explanations[0]!.fault].name;
}

/** The check of {@link CHECKS} for this cause. */
export function checkWords({ kind, explanations }: Cause, diagnosis: Diagnosis): string {
  return CHECKS[kind](explanations[0]!, diagnosis);
}
