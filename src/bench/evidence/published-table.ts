import { citedOutcome, citedPower } from '../../facts/evidence/cited-text.ts';
import { CAUTION } from '../../findings/caution.ts';
import type { CitedCut } from '../../job/evidence/cited-cuts.ts';
import { SOURCE_NAMES } from '../../job/machine/source-names.ts';
import { HAZARD_WORDS, hazardLine } from '../../job/material/names/hint-text.ts';
import { columns } from '../../units/columns.ts';
import {
  formatChance,
  formatCount,
  formatDepth,
  formatFocus,
  formatPercent,
  formatSpeed,
  formatWatts,
} from '../../units/format.ts';
import { inSentence } from '../../units/sentence.ts';
import { writtenMm } from '../../units/written.ts';
import type { PublishedList } from './published-list.ts';

const USES: Record<CitedCut['use'], string> = { daily: 'daily setting', test: 'single cut', bracket: 'boundary' };

/** The published cuts as text: what is predicted of the recipe first, then each cut, then who published them. */
export function publishedTable(list: PublishedList): string {
  const { cuts, others, material } = list;
  const named = material === null;
  const rows = cuts.map((cut) => [
    ...(named ? [cut.material, hazardOf(list, cut)] : []),
    writtenMm(cut.thicknessMm),
    citedPower(cut),
    formatSpeed(cut.speedMmPerS),
    String(cut.passes),
    citedOutcome(cut),
    USES[cut.use],
    `${cut.quality}${cut.worn ? ', worn' : ''}`,
    formatChance(cut.throughProbability),
    `${cut.source} ${cut.id}`,
  ]);
  const head = [
    ...(named ? ['material', 'hazard'] : []),
    ...['sheet', 'power', 'speed', 'passes', 'outcome', 'as', 'stated', 'catalogue', 'row'],
  ];
  const left =
    others === 0 ? [] : [`${formatCount(others, 'other is', 'others are')} farther off in thickness or power.`];
  return [
    titleOf(list),
    ...(list.hazard === null ? [] : [hazardLine(list.hazard)]),
    ...predictedLines(list),
    '',
    ...(rows.length === 0 ? ['none'] : columns([head, ...rows])),
    '',
    ...left,
    ...(rows.length === 0 ? [] : [...LEGEND, '', ...citations(cuts), '']),
    ...(list.caution === null ? [] : [list.caution]),
    CAUTION,
    '',
  ].join('\n');
}

function hazardOf({ hazards }: PublishedList, { material }: CitedCut): string {
  const known = hazards[material];
  return known === undefined ? 'not known' : HAZARD_WORDS[known];
}

const LEGEND = [
  'as: a daily setting has a margin that nobody states; a boundary is one side of it, or the highest speed that still parts.',
  'stated: A all of it by one who cut it, B one thing inferred, C two or more; worn: a worn or dirty machine by its own source.',
  'catalogue: how likely kerflint holds it that the cut parts, on such a machine as the source describes. The catalogue was fitted to',
  'most of these rows; what it says of shops that it has not seen stands in docs/evidence.md.',
];

function titleOf({ asked, material }: PublishedList): string {
  const { thicknessMm, powerW, kind } = asked;
  const what = material === null ? '' : ` of ${inSentence(material)}`;
  const near = [
    ...(thicknessMm === null ? [] : [writtenMm(thicknessMm)]),
    ...(powerW === null ? [] : [`${formatWatts(powerW)} at the work`]),
  ].join(', ');
  const source = kind === null ? '' : `, ${SOURCE_NAMES[kind]} sources`;
  const order = thicknessMm === null ? '' : ', the nearest first';
  return `Cuts${what} that others published${near === '' ? '' : ` near ${near}`}${source}${order}`;
}

function predictedLines({ asked, predicted, machine }: PublishedList): string[] {
  if (predicted === null) return [];
  const { depthMm, depthLowMm, depthHighMm, throughProbability, limit, basis, lens, focusMm } = predicted;
  const recipe = `${formatCount(asked.passes ?? 1, 'pass', 'passes')} at ${formatWatts(asked.powerW ?? 0)}, ${formatSpeed(asked.speedMmPerS ?? 0)}`;
  return [
    `Predicted on ${machine}, ${lens} lens, ${recipe}, the focus ${formatFocus(focusMm)}: ${formatDepth(depthMm, depthLowMm, depthHighMm)} deep, ${formatChance(throughProbability)} likely to part (basis: ${basis}; a recipe is held to ${formatPercent(limit)})`,
  ];
}

/** Each source once, in the order of their names. */
function citations(cuts: readonly CitedCut[]): string[] {
  const sources = new Map(cuts.map(({ source, citation }) => [source, citation]));
  return [...sources].sort(([a], [b]) => (a < b ? -1 : 1)).map(([source, citation]) => `${source}: ${citation}`);
}
