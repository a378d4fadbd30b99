import type { Remedy, RemedyProblem } from '../../physics/search/remedy.ts';
import { SAME_W } from '../../physics/search/remedy-search.ts';
import { formatFocus, formatMm, formatPercent, formatSpeed, roundTo } from '../../units/format.ts';
import type { PassFact, RemedyFact } from './cut-fact.ts';

/** A remedy that changes nothing, with the chance that goes with it. */
export function unchanged(kind: RemedyFact['kind'], text: string, throughProbability: number): RemedyFact {
  return {
    kind,
    text,
    powerW: null,
    setting: null,
    speedMmPerS: null,
    passes: null,
    focusMm: null,
    focusStepMm: null,
    lens: null,
    layers: null,
    layerThicknessMm: null,
    throughProbability: Number(throughProbability.toFixed(3)),
  };
}

/** A remedy with its numbers and the sentence that a person at the machine can act on. */
export function remedyFact(
  remedy: Remedy,
  planned: readonly PassFact[],
  powerChoices: RemedyProblem['powerChoices'],
  /** How far the waist lies above where it is set, mm, found by a ramp; 0 when none was cut. */
  focusOffsetMm: number,
): RemedyFact {
  const toSet = (waistMm: number) => roundTo(waistMm - focusOffsetMm, 2);
  const settingFor = (powerW: number) =>
    powerChoices.find((choice) => choice.powerW >= powerW - 1e-9)?.fraction ?? null;
  const none = unchanged('none', '', remedy.throughProbability);
  const plannedW = Math.max(...planned.map((pass) => pass.powerW));
  const atPower = (powerW: number) => {
    const setting = settingFor(powerW);
    return Math.abs(powerW - plannedW) > SAME_W && setting !== null ? ` at ${formatPercent(setting)}` : '';
  };
  const ownW = Math.max(...remedy.passes.map((pass) => pass.powerW));
  // No remedy keeps a power above the recommended maximum.
  const lowered = ownW < plannedW - SAME_W ? { powerW: ownW, setting: settingFor(ownW) } : {};
  switch (remedy.kind) {
    case 'slower':
      return {
        ...none,
        ...lowered,
        kind: 'slower',
        text: `Slow to ${formatSpeed(remedy.speedMmPerS)}${atPower(ownW)}`,
        speedMmPerS: remedy.speedMmPerS,
      };
    case 'more-power':
      return {
        ...none,
        kind: 'more-power',
        text: `Raise the power to ${formatPercent(remedy.fraction)}`,
        powerW: remedy.powerW,
        setting: remedy.fraction,
      };
    case 'slower-and-more-power':
      return {
        ...none,
        kind: 'slower',
        text: `Slow to ${formatSpeed(remedy.speedMmPerS)} and raise the power to ${formatPercent(remedy.fraction)}`,
        powerW: remedy.powerW,
        setting: remedy.fraction,
        speedMmPerS: remedy.speedMmPerS,
      };
    case 'other-focus':
      return {
        ...none,
        ...lowered,
        kind: 'other-focus',
        text: `Set the focus ${formatFocus(toSet(remedy.focusMm))}${'powerW' in lowered ? ` and cut${atPower(ownW)}` : ''}`,
        focusMm: toSet(remedy.focusMm),
      };
    case 'more-passes': {
      const step = remedy.focusStepMm < 0 ? ` with the focus lowered ${formatMm(-remedy.focusStepMm)} after each` : '';
      return {
        ...none,
        kind: 'more-passes',
        text: `Make ${remedy.count} passes at ${formatSpeed(remedy.speedMmPerS)}${atPower(remedy.powerW)}${step}`,
        passes: remedy.count,
        speedMmPerS: remedy.speedMmPerS,
        powerW: remedy.powerW,
        setting: settingFor(remedy.powerW),
        focusMm: toSet(remedy.focusMm),
        focusStepMm: remedy.focusStepMm,
      };
    }
    case 'other-lens':
      return {
        ...none,
        kind: 'other-lens',
        text: `Fit the ${remedy.lensId} lens and cut at ${formatSpeed(remedy.speedMmPerS)}${atPower(remedy.powerW)} with the focus ${formatFocus(toSet(remedy.focusMm))}`,
        lens: remedy.lensId,
        speedMmPerS: remedy.speedMmPerS,
        powerW: remedy.powerW,
        setting: settingFor(remedy.powerW),
        focusMm: toSet(remedy.focusMm),
        passes: remedy.passes.length,
      };
  }
}
