import { wrapAnsi } from 'fast-wrap-ansi';
import { CAUTION } from '../../findings/caution.ts';
import {
  formatChance,
  formatCount,
  formatDepth,
  formatFocus,
  formatMm,
  formatSpeed,
  formatWatts,
} from '../../units/format.ts';
import { causeName, causeWords, checkWords } from './cause-texts.ts';
import type { Diagnosis } from './diagnose-job.ts';

/** How much can be read at once, in characters and lines. */
export interface Screen {
  columns: number;
  rows: number;
}

/** More than these are not worth a person's time before the first few were looked at. */
const MOST_CAUSES = 6;
/** The first few are told whatever their share, further ones from this share on. */
const ALWAYS_TOLD = 3;
const WORTH_TELLING = 0.02;
/** Where nothing explains it alone, so many that come nearest are told. */
const MOST_NEAREST = 4;
/** Further causes that are told by their names alone. */
const MOST_NAMES = 3;
/** Fewer characters a line are not wrapped to. */
const NARROWEST = 40;
/** Hanging indent below a cause's share. */
const INDENT = '       ';
/** Lens materials that are poisonous, as their makers' safety data sheets say (memory). */
const POISONOUS: Readonly<Record<string, string>> = {
  znse: 'zinc selenide',
  'zinc selenide': 'zinc selenide',
  gaas: 'gallium arsenide',
  'gallium arsenide': 'gallium arsenide',
};

/**
 * The diagnosis for the person beside the machine: what to do first in the first line, then the causes that explain it, cheap and likely before
 * others, each with its size and one check. As many are told as the screen has room for, at least one.
 */
export function diagnosisReport(diagnosis: Diagnosis, screen: Screen): string {
  const columns = Math.max(NARROWEST, screen.columns);
  const fitting = diagnosis.causes.filter(({ fit }) => fit !== 'not-alone');
  const worth = fitting.filter(({ share }, i) => i < ALWAYS_TOLD || share >= WORTH_TELLING);
  const causes = worth.length > 0 ? worth : diagnosis.causes.slice(0, MOST_NEAREST);
  for (let shown = Math.min(MOST_CAUSES, causes.length); ; shown--) {
    const lines = [...reportLines(diagnosis, causes, shown, columns), CAUTION];
    const rows = lines.reduce((sum, line) => sum + Math.max(1, Math.ceil(line.length / columns)), 0);
    // The prompt takes the last row.
    if (rows < screen.rows || shown <= 1) return `${lines.join('\n')}\n`;
  }
}

function reportLines(diagnosis: Diagnosis, causes: Diagnosis['causes'], shown: number, columns: number): string[] {
  const wrapped = (text: string, first = '', next = first) => indented(text, first, next, columns);
  const told = causes.slice(0, shown);
  const fits = told[0]?.fit !== 'not-alone';
  return [
    ...wrapped(
      `First${fits ? ` (${told[0]!.checkMinutes} min): ${checkWords(told[0]!, diagnosis)}` : againWords(diagnosis)}.`,
    ),
    '',
    ...wrapped(
      `${diagnosis.job}, task "${diagnosis.task}": ${formatMm(diagnosis.thicknessMm)} ${diagnosis.material}, ${recipeWords(diagnosis)}. ${depthWords(diagnosis)}`,
    ),
    ...wrapped(
      fits
        ? 'What explains it, cheap and likely first (shares rest on memory, no counts):'
        : 'No one cause explains it; what comes nearest at its worst:',
    ),
    ...told.flatMap((cause, i) => [
      ...wrapped(causeWords(cause, diagnosis), fits ? `${shareWords(cause.share)}  ` : INDENT, INDENT),
      // The first one's check is the report's first line.
      ...(i === 0 && fits ? [] : wrapped(`(${cause.checkMinutes} min) ${checkWords(cause, diagnosis)}.`, INDENT)),
    ]),
    ...wrapped(moreWords(causes.slice(shown), diagnosis.causes.length - shown)),
    ...wrapped(rescueWords(diagnosis)),
    ...(told.some(({ kind }) => kind.startsWith('lens-')) ? wrapped(brokenLensWords(diagnosis)) : []),
    ...wrapped('Let it cool and clear the smoke; switch off before you touch lens or mirrors.'),
  ];
}

function indented(text: string, first: string, next: string, columns: number): string[] {
  if (text === '') return [];
  const lines = wrapAnsi(text, columns - first.length).split('\n');
  return lines.map((line, i) => `${i === 0 ? first : next}${line}`);
}

/** A share in whole per cent, five characters wide; never a bare 0 or 100, which would claim certainty. */
function shareWords(share: number): string {
  const percent = Math.round(share * 100);
  return `${percent < 1 ? '<1' : percent > 99 ? '>99' : percent} %`.padStart(5);
}

function againWords({ seen: { depthMm } }: Diagnosis): string {
  return depthMm === null
    ? ': measure how deep it got, as no one cause known here keeps it from parting'
    : `: measure again, as no one cause known here gives ${formatMm(depthMm)}; then look for two`;
}

function recipeWords({ passes }: Diagnosis): string {
  const [first] = passes;
  if (first === undefined) return 'no pass';
  return `${formatCount(passes.length, 'pass', 'passes')} of ${formatWatts(first.powerW)} at ${formatSpeed(first.speedMmPerS)}`;
}

function depthWords(diagnosis: Diagnosis): string {
  const { depthMm, depthLowMm, depthHighMm, throughProbability } = diagnosis;
  return `Predicted ${formatDepth(depthMm, depthLowMm, depthHighMm)}, ${formatChance(throughProbability)} likely to part; seen: ${seenWords(diagnosis)}.`;
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

/** The names of the next few causes that the screen has no room for. */
function moreWords(rest: Diagnosis['causes'], all: number): string {
  if (all === 0) return '';
  const names = rest.slice(0, MOST_NAMES).map((cause) => causeName(cause));
  const more = all - names.length;
  return `${names.length === 0 ? 'Weighed besides' : 'Then'}: ${[...names, ...(more > 0 ? [`${more} more (--json)`] : [])].join(', ')}.`;
}

function rescueWords({ rescue, seen, passes }: Diagnosis): string {
  if (seen.depthMm === null) {
    return 'If the sheet has not moved: say how deep it is (--depth), and the passes that would still part it are worked out.';
  }
  if (rescue === null) {
    return 'If the sheet has not moved: a few more passes as before would hardly part it. Do not go on by guess; it only chars.';
  }
  const [extra] = rescue.extraPasses;
  const focusMm = extra?.focusMm ?? 0;
  const moved = focusMm === passes.at(-1)?.focusMm ? 'at the same focus' : `focus set ${formatFocus(focusMm)}`;
  const count = rescue.extraPasses.length;
  return `If the sheet has not moved, and that is put right: ${formatCount(count, 'more pass', 'more passes')} of ${formatWatts(extra?.powerW ?? 0)} at ${formatSpeed(extra?.speedMmPerS ?? 0)}, ${moved}, ${count === 1 ? 'is' : 'are'} ${formatChance(rescue.throughProbability)} likely to part it.`;
}

/** No lens that is broken is touched with bare hands, and the usual one for a CO₂ source is poisonous besides. */
function brokenLensWords({ lensMaterial }: Diagnosis): string {
  const poison = POISONOUS[lensMaterial.trim().toLowerCase()];
  const why = poison === undefined ? 'it has sharp edges' : `${poison} is poisonous`;
  return `No bare hands on a cracked lens: ${why}; see its data sheet.`;
}
