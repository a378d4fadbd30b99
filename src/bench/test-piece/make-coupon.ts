import { done, type Outcome, refused } from '../../facts/bench/set-up.ts';
import { materialCaution } from '../../findings/caution.ts';
import { formatChance, formatFocus, formatTime } from '../../units/format.ts';
import { writtenMm, writtenThickness } from '../../units/written.ts';
import { couponPiece, couponSize, fastestWithin, TONGUE_SIZES } from './coupon-piece.ts';
import { type CouponOptions, type CouponPlan, FEWEST_TONGUES, MOST_TONGUES, planCoupon } from './coupon-plan.ts';
import { couponResults } from './coupon-results-sheet.ts';
import { type PieceFiles, type PieceRequest, pieceCautions, pieceSidecar } from './piece-files.ts';
import { movesWaist, pieceProgram, programProblem } from './piece-gcode.ts';
import { labelWords } from './piece-label.ts';
import { pieceArtwork } from './piece-svg.ts';

export interface CouponRequest extends PieceRequest {
  tongues: number;
  passes: number | null;
  focusMm: number;
  focusStepMm: number;
  /** The corner of the bed where it will lie: near to the machine's own, or the far one, where mirrors that drift tell. */
  corner: 'near' | 'far';
}

/** A test piece with its program, artwork, sidecar and results sheet, or why there is none. */
export function makeCoupon(request: CouponRequest): Outcome<PieceFiles & { plan: CouponPlan }> {
  const { machine, tongues } = request;
  const unwritten = programProblem(machine);
  if (unwritten !== null) return refused(unwritten);
  if (!(Number.isInteger(tongues) && tongues >= FEWEST_TONGUES && tongues <= MOST_TONGUES)) {
    return refused(`a test piece has ${FEWEST_TONGUES} to ${MOST_TONGUES} tongues, not ${tongues}`);
  }
  let problem = '';
  for (const size of TONGUE_SIZES) {
    const { widthMm, heightMm } = couponSize(tongues, size, machine.travel.xMm, labelWords(request));
    if (widthMm > machine.travel.xMm || heightMm > machine.travel.yMm) {
      problem ||= `a piece of ${writtenMm(widthMm)} by ${writtenMm(heightMm)} does not fit on the bed: ask for fewer tongues`;
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
    const about = { title: titleOf(request), cautions: pieceCautions(request.material), label: labelWords(request) };
    const piece = couponPiece(about, plan, size, machine.travel.xMm);
    const { name } = request;
    return done({
      plan,
      files: [
        { name: `${name}.gcode`, text: pieceProgram(piece, machine, notesOf(request)) },
        { name: `${name}.svg`, text: pieceArtwork(piece) },
        { name: `${name}.job.yaml`, text: pieceSidecar(request, piece, corner, ABOUT) },
        { name: `${name}.results.yaml`, text: couponResults(request, plan, options.at) },
      ],
      steps: stepsOf(request, plan, { widthMm, heightMm, corner }),
    });
  }
  return refused(problem);
}

const ABOUT = 'A test piece. Its tongues have the aim groove: whether each parts is what the test is to tell.';

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

function titleOf({ material, machine, lens, thickness, today }: CouponRequest): string {
  return `test piece: ${writtenThickness(thickness)} ${material.name}, ${machine.id}, ${lens.id} lens, ${today}`;
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
    materialCaution(request.material),
    `Lay a flat scrap of the same sheet, ${writtenMm(size.widthMm)} by ${writtenMm(size.heightMm)} or more, at ${placeWords(size)}; measure its thickness and write it into ${name}.results.yaml.`,
    `Check it with "kerflint check ${name}.job.yaml", then run ${name}.gcode (about ${formatTime(timeS)}; air on).`,
    movesWaist(machine)
      ? 'Set the focus with the gauge as always, so that the waist lies on the face at Z0; the program goes on from there.'
      : 'Set the focus by hand as the program says, and do not touch it between the tongues.',
    'Do not press: lift the sheet straight up. A tongue that stays on the bed or drops out by its own weight has parted; one that hangs by a fibre has not.',
    `Tongue 1 (${formatChance(first.throughProbability)} likely to part) to tongue ${last.number} (${formatChance(last.throughProbability)}): write yes or no for each into ${name}.results.yaml, or the depth where you can measure it.`,
    `Then: kerflint calibrate ${name}.results.yaml`,
  ];
}

function placeWords({ corner }: Laid): string {
  if (corner.xMm === 0 && corner.yMm === 0) return "the machine's own corner";
  return `the far corner, its own corner at X ${writtenMm(corner.xMm)}, Y ${writtenMm(corner.yMm)}`;
}
