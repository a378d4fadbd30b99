import { LatelyUsed } from '../../units/lately-used.ts';
import { type CutInput, type PredictionResult, predictCut, probabilityFrom } from './predict.ts';

/**
 * So many chances and predictions are remembered. A search tries the same few typed speeds and powers under the same lenses job after job, and
 * jobs of one shop are planned alike.
 */
const MOST_CHANCES = 8192;
const MOST_CUTS = 1024;
/** Cuts of more passes are seldom, and what names them would be long. */
const MOST_PASSES = 16;

/** What is known of a cut's chance: the number, or a limit that it does not reach. */
type KnownChance = { chance: number } | { below: number };

const CHANCES = new LatelyUsed<string, KnownChance>(MOST_CHANCES);
const CUTS = new LatelyUsed<string, PredictionResult>(MOST_CUTS);

/** {@link probabilityFrom}, looked up where the same cut was asked for lately. */
export function rememberedProbabilityFrom(limit: number, input: CutInput): number | null {
  const key = keyOf(input);
  const known = key === null ? undefined : CHANCES.get(key);
  if (known !== undefined && 'chance' in known) return known.chance >= limit ? known.chance : null;
  if (known !== undefined && known.below <= limit) return null;
  const chance = probabilityFrom(limit, input);
  if (key !== null) CHANCES.set(key, chance === null ? { below: limit } : { chance });
  return chance;
}

/** P(through) alone, looked up likewise. The input must have no problem. */
export function rememberedProbability(input: CutInput): number {
  return rememberedProbabilityFrom(0, input) ?? 0;
}

/** {@link predictCut}, looked up likewise. */
export function rememberedPrediction(input: CutInput): PredictionResult {
  const key = keyOf(input);
  const known = key === null ? undefined : CUTS.get(key);
  if (known !== undefined) return known;
  const predicted = predictCut(input);
  if (key !== null) CUTS.set(key, predicted);
  return predicted;
}

/** Every number that a prediction rests on; null where it is not worth remembering. */
function keyOf({ beam, stock, doubt, passes, thicknessMm, bowMm, kerfThresholdJPerMm2 }: CutInput): string | null {
  if (passes.length > MOST_PASSES) return null;
  let key = `${idOf(beam)} ${idOf(stock)} ${idOf(doubt)} ${thicknessMm} ${bowMm} ${kerfThresholdJPerMm2 ?? null}`;
  for (const { powerW, speedMmPerS, focusMm } of passes) key += ` ${powerW} ${speedMmPerS} ${focusMm}`;
  return key;
}

/** By object, so that the same one is not read twice, and by what stands in it. No id is given again. */
const idsByObject = new WeakMap<object, number>();
const idsByText = new LatelyUsed<string, number>(MOST_CUTS);
let ids = 0;

function idOf(part: object): number {
  const known = idsByObject.get(part);
  if (known !== undefined) return known;
  const text = textOf(part);
  const id = idsByText.get(text) ?? ids++;
  idsByText.set(text, id);
  idsByObject.set(part, id);
  return id;
}

/** With the names, since what is left out would shift the others. A list, such as what coupons left open, is known by being the same one. */
function textOf(part: object): string {
  let text = '';
  for (const [name, value] of Object.entries(part)) {
    text += ` ${name} `;
    if (typeof value !== 'object' || value === null) text += String(value);
    else text += Array.isArray(value) ? `list ${idOfList(value)}` : `(${textOf(value)})`;
  }
  return text;
}

function idOfList(list: object): number {
  const id = idsByObject.get(list) ?? ids++;
  idsByObject.set(list, id);
  return id;
}
