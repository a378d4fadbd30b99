import { scaleLinear } from 'd3-scale';
import { area } from 'd3-shape';
import { wrapAnsi } from 'fast-wrap-ansi';
import { inventedText } from '../../facts/assumed/assumed-text.ts';
import type { PricedRecipe, RecipeFound } from '../../facts/recipes/recipe-answer-model.ts';
import { boundsText } from '../../facts/recipes/recipe-text.ts';
import { CAUTION, materialCaution } from '../../findings/caution.ts';
import {
  formatBar,
  formatChance,
  formatCount,
  formatFocus,
  formatMm,
  formatMoney,
  formatPercent,
  formatSpeed,
  formatTime,
  trimmed,
} from '../../units/format.ts';
import { inSentence } from '../../units/sentence.ts';
import { escapeHtml } from '../escape.ts';
import { coordinate } from './picture-parts.ts';
import { INK, pageRule, pageText } from './wall-chart-parts.ts';

/** A5, landscape, in mm: a card to lay beside the machine, in greys. */
const CARD = { width: 210, height: 148, margin: 9 };
/** The lines at the foot: letters of one, wide ones fit as well; size and distance, mm. */
const FOOT = { letters: 145, size: 2.3, line: 3.2, bottom: 4 };
/** The sheet in section, at the left. */
const SECTION = { left: 9, right: 78, top: 44, bottom: 112 };
/** The recipes to choose from, at the right. */
const LIST = { left: 88, right: 201, top: 44, row: 17 };

/** The recipe as a card: the settings large, the beam in the sheet, and the other ways beside each other. */
export function recipeCard(answer: RecipeFound): string {
  const { machine, material, thicknessMm, basis, source } = answer;
  const title = `${formatMm(thicknessMm)} ${inSentence(material)} on ${machine}`;
  const { margin, width, height } = CARD;
  const parts = [
    `<rect width="${width}" height="${height}" fill="${INK.page}"/>`,
    pageText(margin, 12, title, { size: 4.6, fill: INK.soft }),
    pageText(margin, 24, headline(answer), { size: 8, weight: 'bold' }),
    pageText(margin, 32, headDetail(answer), { size: 4.6 }),
    pageText(margin, 38, `${source} · basis: ${basis}`, { size: 3, fill: INK.soft }),
    ...section(answer),
    ...list(answer),
    ...foot(answer),
  ];
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}" font-family="Helvetica, Arial, 'DejaVu Sans', sans-serif" role="img" aria-labelledby="title desc">`,
    `<title id="title">${escapeHtml(`Recipe for ${title}`)}</title>`,
    `<desc id="desc">${escapeHtml(`${headline(answer)}, ${headDetail(answer)}. ${bounds(answer)}`)}</desc>`,
    ...parts,
    '</svg>',
    '',
  ].join('\n');
}

function headline({ standing, recipe }: RecipeFound): string {
  if (standing === 'out-of-reach') return `Out of reach: at best ${formatChance(recipe.throughProbability)}`;
  return `${standing === 'prove' ? 'Prove: ' : ''}${runWords(recipe)}`;
}

const runWords = ({ setting, speedMmPerS, passes }: PricedRecipe): string =>
  `${formatPercent(setting)} · ${formatSpeed(speedMmPerS)} · ${formatCount(passes, 'pass', 'passes')}`;

function focusWords({ focusMm, focusStepMm }: PricedRecipe): string {
  return `focus ${formatFocus(focusMm)}${focusStepMm < 0 ? `, ${formatMm(-focusStepMm)} lower after each` : ''}`;
}

function headDetail({ recipe, airBar, standing, limit }: RecipeFound): string {
  return [
    focusWords(recipe),
    `${recipe.lens} lens`,
    airBar === null ? 'air on' : `air ${formatBar(airBar)}`,
    `${formatChance(recipe.throughProbability)} likely${standing === 'prove' ? ` of ${formatPercent(limit)} asked` : ''}`,
  ].join(' · ');
}

/** The sheet, the free beam through it to the same scale down, spread across so that its waist shows, and where it is in focus. */
function section({ section: { beam, waistsMm, depthOfFocusMm, spotMm, lens }, thicknessMm }: RecipeFound): string[] {
  const { left, right, top, bottom } = SECTION;
  const first = beam[0]?.zMm ?? thicknessMm / 2;
  const last = beam.at(-1)?.zMm ?? -1.5 * thicknessMm;
  const y = scaleLinear([first, last], [top, bottom]).clamp(true);
  const middle = (left + right) / 2 - 6;
  const widest = Math.max(spotMm, ...beam.map(({ diameterMm }) => diameterMm));
  const across = (diameterMm: number) => (diameterMm / widest) * 18;
  const envelope = area<(typeof beam)[number]>()
    .y((point) => y(point.zMm))
    .x0((point) => middle - across(point.diameterMm))
    .x1((point) => middle + across(point.diameterMm))
    .digits(2);
  const waist = waistsMm[0] ?? 0;
  const inFocus = { top: y(waist + depthOfFocusMm / 2), bottom: y(waist - depthOfFocusMm / 2) };
  return [
    `<rect x="${left}" y="${coordinate(y(0))}" width="${right - left - 18}" height="${coordinate(y(-thicknessMm) - y(0))}" fill="${INK.mark}" stroke="${INK.rule}" stroke-width="0.2"/>`,
    `<path d="${envelope(beam) ?? ''}" fill="${INK.band}" stroke="${INK.soft}" stroke-width="0.25"/>`,
    ...waistsMm.map((mm, i) =>
      waistMark(y(mm), middle, waistsMm.length > 1 && i > 0 && mm !== waist ? `pass ${i + 1}` : ''),
    ),
    pageRule(right - 14, inFocus.top, right - 14, inFocus.bottom, { stroke: INK.text, width: 0.5 }),
    pageText(right - 12, (inFocus.top + inFocus.bottom) / 2, 'in focus', { size: 2.8 }),
    pageText(right - 12, (inFocus.top + inFocus.bottom) / 2 + 3.4, formatMm(depthOfFocusMm, 1), { size: 2.8 }),
    pageText(left + 1, y(0) - 1.2, 'face', { size: 2.8, fill: INK.soft }),
    pageText(left + 1, y(-thicknessMm) + 3.4, formatMm(thicknessMm), { size: 2.8, fill: INK.soft }),
    pageText(left, bottom + 3.5, `${lens} lens, spot ${formatMm(spotMm, 2)} (drawn wider than it is)`, {
      size: 2.8,
      fill: INK.soft,
    }),
  ];
}

function waistMark(y: number, middle: number, label: string): string {
  const rule = pageRule(middle - 16, y, middle + 16, y, { stroke: INK.text, width: 0.35, dash: '1.4 0.8' });
  return label === '' ? rule : rule + pageText(middle + 17, y + 1, label, { size: 2.6 });
}

/** Each way with its chance as a bar against what is asked, and the time and cost of a metre. */
function list(answer: RecipeFound): string[] {
  const { standing, recipe, fastest, surest, onePass, limit } = answer;
  const ways: [string, PricedRecipe | null][] = [
    [{ sure: 'proposed', prove: 'to prove', 'out-of-reach': 'nearest' }[standing], recipe],
    ['fastest', fastest],
    ['surest', surest],
    ['in one pass', onePass],
  ];
  return ways
    .filter((way): way is [string, PricedRecipe] => way[1] !== null)
    .flatMap(([name, one], i) => way(name, one, LIST.top + i * LIST.row, limit));
}

function way(name: string, recipe: PricedRecipe, top: number, limit: number): string[] {
  const { left, right } = LIST;
  const bar = { left: right - 34, width: 34 };
  const chance = recipe.throughProbability;
  const cost = recipe.costPerM === null ? '' : `, ${formatMoney(recipe.costPerM)}`;
  return [
    pageRule(left, top, right, top, { stroke: INK.rule, width: 0.2 }),
    pageText(left, top + 5.2, name, { size: 3.4, fill: INK.soft }),
    pageText(left + 22, top + 5.2, runWords(recipe), { size: 3.6, weight: 'bold' }),
    pageText(left + 22, top + 9.8, `${focusWords(recipe)} · ${recipe.lens}`, { size: 2.8 }),
    pageText(left + 22, top + 13.8, `a metre: ${formatTime(recipe.timeSPerM)}${cost}`, { size: 2.8, fill: INK.soft }),
    `<rect x="${bar.left}" y="${coordinate(top + 6)}" width="${bar.width}" height="3" fill="${INK.mark}"/>`,
    `<rect x="${bar.left}" y="${coordinate(top + 6)}" width="${coordinate(bar.width * chance)}" height="3" fill="${recipe.standing === 'sure' ? INK.text : INK.rule}"/>`,
    pageRule(bar.left + bar.width * limit, top + 5, bar.left + bar.width * limit, top + 10, {
      stroke: INK.text,
      width: 0.3,
    }),
    pageText(right, top + 4.4, `${formatChance(chance)} likely`, { size: 3, anchor: 'end' }),
    pageText(right, top + 13.2, `asked: ${trimmed(limit * 100, 0)} %`, { size: 2.4, fill: INK.soft, anchor: 'end' }),
  ];
}

const bounds = ({ limitedBy }: RecipeFound): string =>
  limitedBy.length === 0 ? '' : `Held back by ${boundsText(limitedBy)}.`;

function foot(answer: RecipeFound): string[] {
  const lines = [
    ...(bounds(answer) === '' ? [] : [bounds(answer)]),
    'Predicted, not measured: cut a 20 mm square of scrap of this very sheet first, then a test piece (kerflint coupon).',
    materialCaution({ name: answer.material, hazard: answer.hazard }),
    ...(answer.inventedMachine ? [inventedText(answer.machine, true)] : []),
    CAUTION,
  ].flatMap((text) => wrapAnsi(text, FOOT.letters).split('\n'));
  const first = CARD.height - FOOT.bottom - (lines.length - 1) * FOOT.line;
  return lines.map((line, i) =>
    pageText(CARD.margin, first + i * FOOT.line, line, { size: FOOT.size, fill: INK.soft }),
  );
}
