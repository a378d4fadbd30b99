import { done, type OnBench, type Outcome, refused } from '../facts/bench/set-up.ts';
import type { Material } from '../job/model.ts';
import { formatChance, formatFocus, formatTime } from '../units/format.ts';
import { couponPiece, couponSize, fastestWithin, MARKS, TONGUE_SIZES, tongueId, tongueName } from './coupon-piece.ts';
import { type CouponOptions, type CouponPlan, FEWEST_TONGUES, MOST_TONGUES, planCoupon } from './coupon-plan.ts';
import { movesWaist, pieceProgram } from './piece-gcode.ts';
import { pieceArtwork } from './piece-svg.ts';
import { editorLine, mmText, scalar, shareText, speedText, thicknessText } from './yaml-text.ts';

export interface CouponRequest extends OnBench {
  /** Name of the files, without their endings. */
  name: string;
  tongues: number;
  passes: number | null;
  focusMm: number;
  focusStepMm: number;
  /** The corner of the bed where it will lie: near to the machine's own, or the far one, where mirrors that drift tell. */
  corner: 'near' | 'far';
  /** Where the JSON Schemas are, seen from the files, for editors; null leaves it out. */
  schemas: string | null;
}

/** The files of a test piece, by name, and what to tell the person. */
export interface BenchFiles {
  files: { name: string; text: string }[];
  /** What to do with them, a line each. */
  steps: string[];
}

/** A test piece with its program, artwork, sidecar and results sheet, or why there is none. */
export function coupon(request: CouponRequest): Outcome<BenchFiles & { plan: CouponPlan }> {
  const { machine, tongues } = request;
  if (!(Number.isInteger(tongues) && tongues >= FEWEST_TONGUES && tongues <= MOST_TONGUES)) {
    return refused(`a test piece has ${FEWEST_TONGUES} to ${MOST_TONGUES} tongues, not ${tongues}`);
  }
  let problem = '';
  for (const size of TONGUE_SIZES) {
    const { widthMm, heightMm } = couponSize(tongues, size, machine.travel.xMm);
    if (widthMm > machine.travel.xMm || heightMm > machine.travel.yMm) {
      problem ||= `a piece of ${mmText(widthMm)} by ${mmText(heightMm)} does not fit on the bed: ask for fewer tongues`;
      break;
    }
    const corner = cornerOf(request, { widthMm, heightMm });
    const options: CouponOptions = {
      ...request,
      at: { xMm: corner.xMm + widthMm / 2, yMm: corner.yMm + heightMm / 2 },
      fastestMmPerS: Math.min(machine.motion.speedMmPerS, fastestWithin(size, machine.motion.accelerationMmPerS2)),
    };
    const planned = planCoupon(request, options);
    if (planned.value === null) {
      problem = planned.problem;
      continue;
    }
    const plan = planned.value;
    const piece = couponPiece(titleOf(request), plan, size, machine.travel.xMm);
    const { name } = request;
    return done({
      plan,
      files: [
        { name: `${name}.gcode`, text: pieceProgram(piece, machine, notesOf(request)) },
        { name: `${name}.svg`, text: pieceArtwork(piece) },
        { name: `${name}.job.yaml`, text: sidecarText(request, plan, { widthMm, heightMm, corner }) },
        { name: `${name}.results.yaml`, text: resultsText(request, plan, options.at) },
      ],
      steps: stepsOf(request, plan, { widthMm, heightMm, corner }),
    });
  }
  return refused(problem);
}

interface Laid {
  widthMm: number;
  heightMm: number;
  corner: { xMm: number; yMm: number };
}

/** Where the piece's own corner lies on the bed. */
function cornerOf(request: CouponRequest, size: { widthMm: number; heightMm: number }): Laid['corner'] {
  const { xMm, yMm } = request.machine.travel;
  return request.corner === 'near' ? { xMm: 0, yMm: 0 } : { xMm: xMm - size.widthMm, yMm: yMm - size.heightMm };
}

function titleOf({ material, machine, lens, thickness }: CouponRequest): string {
  return `test piece: ${thicknessText(thickness)} ${material.name}, ${machine.id}, ${lens.id} lens`;
}

function notesOf(request: CouponRequest): string[] {
  const notes = ['X0 Y0 is the corner of the sheet; nothing may lie under it but the bed'];
  if (!movesWaist(request.machine)) notes.push(`set the focus by hand, waist ${formatFocus(request.focusMm)}`);
  return notes;
}

function stepsOf(request: CouponRequest, plan: CouponPlan, size: Laid): string[] {
  const { name, machine } = request;
  const first = plan.tongues[0]!;
  const last = plan.tongues.at(-1)!;
  const timeS = plan.tongues.reduce((sum, tongue) => sum + (40 * plan.passes) / tongue.speedMmPerS, 5);
  return [
    ...cautionStep(request.material),
    `Lay a flat scrap of the same sheet, ${mmText(size.widthMm)} by ${mmText(size.heightMm)} or more, at ${placeWords(size)}; measure its thickness and write it into ${name}.results.yaml.`,
    `Check it with "kerflint check ${name}.job.yaml", then run ${name}.gcode (about ${formatTime(timeS)}; air on, extraction on, stay with it).`,
    movesWaist(machine)
      ? 'Set the focus with the gauge as always, so that the waist lies on the face at Z0; the program goes on from there.'
      : 'Set the focus by hand as the program says, and do not touch it between the tongues.',
    'Do not press: lift the sheet straight up. A tongue that stays on the bed or drops out by its own weight has parted; one that hangs by a fibre has not.',
    `Tongue 1 (${formatChance(first.throughProbability)} likely to part) to tongue ${last.number} (${formatChance(last.throughProbability)}): write yes or no for each into ${name}.results.yaml, or the depth where you can measure it.`,
    `Then: kerflint calibrate ${name}.results.yaml`,
  ];
}

/** A material that a person should think about twice is named as one before anything is laid on the bed. */
export function cautionStep(material: Material): string[] {
  const { class: hazard, reason } = material.hazard;
  return hazard === 'reconsider'
    ? [`Reconsider this material: ${reason}. See its safety data sheet before you cut a test.`]
    : [];
}

function placeWords({ corner }: Laid): string {
  if (corner.xMm === 0 && corner.yMm === 0) return "the machine's own corner";
  return `the far corner, its own corner at X ${mmText(corner.xMm)}, Y ${mmText(corner.yMm)}`;
}

function atText({ xMm, yMm }: Laid['corner']): string {
  return xMm === 0 && yMm === 0 ? '' : `, at: { x: ${mmText(xMm)}, y: ${mmText(yMm)} }`;
}

/** Every tongue is a test: declared as a groove, because nobody knows yet whether it parts. */
function sidecarText(request: CouponRequest, plan: CouponPlan, size: Laid): string {
  const { machine, lens, material, thickness, name } = request;
  const task = (taskName: string, id: string, recipe: { setting: number; speedMmPerS: number }, tongue: boolean) => [
    `  - name: ${taskName}`,
    '    aim: groove',
    `    strokes: { layer: ${id} }`,
    `    program: { comment: ${taskName} }`,
    `    power: ${shareText(recipe.setting)}`,
    `    speed: ${speedText(recipe.speedMmPerS)}`,
    ...(tongue && plan.passes > 1 ? [`    passes: ${plan.passes}`] : []),
    ...(tongue && plan.focusMm !== 0 ? [`    focus: ${mmText(plan.focusMm)}`] : []),
    ...(tongue && plan.focusStepMm !== 0 ? [`    focus-step: ${mmText(plan.focusStepMm)}`] : []),
  ];
  return [
    ...editorLine(request.schemas, 'job'),
    '# A test piece. Its tongues have the aim groove: whether each parts is what the test is to tell.',
    'kerflint: 1',
    `machine: ${scalar(machine.id)}`,
    `lens: ${scalar(lens.id)}`,
    `material: ${scalar(material.id)}`,
    `thickness: ${thicknessText(thickness)}`,
    `sheet: { width: ${mmText(size.widthMm)}, height: ${mmText(size.heightMm)}${atText(size.corner)} }`,
    'zero: sheet-corner',
    `toolpath: ${scalar(`${name}.gcode`)}`,
    `artwork: ${scalar(`${name}.svg`)}`,
    'tasks:',
    ...task(MARKS, MARKS, plan.mark, false),
    ...plan.tongues.flatMap((tongue) => task(tongueName(tongue.number), tongueId(tongue.number), tongue, true)),
    '',
  ].join('\n');
}

function resultsText(request: CouponRequest, plan: CouponPlan, at: { xMm: number; yMm: number }): string {
  const { machine, lens, material, thickness } = request;
  const wide = (text: string, width: number) => text.padEnd(width);
  const rows = plan.tongues.map((tongue) => {
    const recipe = [
      wide(`tongue: ${tongue.number},`, 11),
      wide(`power: ${shareText(tongue.setting)},`, 14),
      wide(`speed: ${speedText(tongue.speedMmPerS)},`, 18),
      ...(plan.passes > 1 ? [`passes: ${plan.passes},`] : []),
      ...(plan.focusMm !== 0 ? [`focus: ${mmText(plan.focusMm)},`] : []),
      ...(plan.focusStepMm !== 0 ? [`focus-step: ${mmText(plan.focusStepMm)},`] : []),
    ];
    return `  - { ${recipe.join(' ')} through:  }`;
  });
  return [
    ...editorLine(request.schemas, 'coupon-results'),
    '# Fill in, then: kerflint calibrate <this file>',
    '# Behind each "through:" write yes (it parted) or no. Where it did not part and you can measure how deep it is,',
    '# write "depth: 2.1 mm" in place of "through:". A tongue that is left empty does not count.',
    'kerflint: 1',
    `machine: ${scalar(machine.id)}`,
    `lens: ${scalar(lens.id)}`,
    `material: ${scalar(material.id)}`,
    `thickness: ${thicknessText(thickness)} # measure this piece, and correct it`,
    `at: { x: ${mmText(at.xMm)}, y: ${mmText(at.yMm)} } # where on the bed the piece lay`,
    'date: # the day it was cut, as 2026-11-25',
    'coupons:',
    ...rows,
    '',
  ].join('\n');
}
