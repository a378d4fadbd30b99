import { cutOf, done, fullPower, type Outcome, refused, setUp } from '../../facts/bench/set-up.ts';
import type { Setup } from '../../facts/cuts/setup.ts';
import { materialCaution } from '../../findings/caution.ts';
import { marchedDepthMm } from '../../physics/march/march.ts';
import { formatMm, roundTo } from '../../units/format.ts';
import { writtenMm } from '../../units/written.ts';
import { editorLine, remarked, yamlText } from '../commented-yaml.ts';
import { MARK_STROKE_MM, textStrokes, textWidthMm } from './lettering.ts';
import { line, type Piece, type PieceGroup, type PieceStroke } from './piece.ts';
import {
  dateLine,
  type PieceFiles,
  type PieceRequest,
  pieceCautions,
  pieceSidecar,
  setUpLines,
} from './piece-files.ts';
import { movesWaist, pieceProgram, programProblem } from './piece-gcode.ts';
import { labelWords, pieceLabel } from './piece-label.ts';
import { pieceArtwork } from './piece-svg.ts';

export interface RampRequest extends PieceRequest {
  /** `driven`: the program moves the waist; `tilted`: the board is raised at one end; null: driven where the machine can. */
  kind: 'driven' | 'tilted' | null;
}

const ABOUT = 'A focus ramp: lines that are scored from out of focus through it and out again.';

/** How a ramp lies: where the waist is over the face at its two ends. */
interface Slope {
  kind: 'driven' | 'tilted';
  nearMm: number;
  farMm: number;
  lengthMm: number;
}

/** The ramp reaches so many Rayleigh ranges to either side, where the line is plainly wider, and at least this far, mm. */
const RAYLEIGH_RANGES = 3;
const USEFUL_REACH_MM = 3;
/** The nozzle comes no nearer to the sheet than this, mm, and a ramp shorter than that tells nothing. */
const CLEARANCE_MM = 1;
const LEAST_REACH_MM = 1;
/** Where a profile states no standoff, mm (common practice, no source). */
const USUAL_STANDOFF_MM = 4;
const LENGTH_MM = 100;
const MARGIN_MM = 8;
const TICK_MM = 3;
const DIGIT_MM = 3;
/** Numerals stand at every so many mm of the ramp. */
const NUMERAL_EVERY_MM = 10;
const LINES = 3;
const LINE_GAP_MM = 4;
/** The line is scored so deep where it is in focus: narrow enough to be judged by eye, mm. */
const DEPTH_MM = 0.5;
/** The fastest a line of a ramp is run, mm/s (common practice, no source). */
const FASTEST_MM_PER_S = 60;

/** A focus ramp with its program, artwork, sidecar and results sheet, or why there is none. */
export function makeRamp(request: RampRequest): Outcome<PieceFiles> {
  const { machine } = request;
  const unwritten = programProblem(machine);
  if (unwritten !== null) return refused(unwritten);
  const built = setUp(request);
  if (built.value === null) return built;
  const kind = request.kind ?? (movesWaist(machine) ? 'driven' : 'tilted');
  if (kind === 'driven' && !movesWaist(machine)) {
    return refused(
      `${machine.id} has no controlled Z (controller, z-zero: waist-on-face, and travel, z): use the tilted board`,
    );
  }
  const standoffMm = request.lens.standoffMm ?? USUAL_STANDOFF_MM;
  if (standoffMm - CLEARANCE_MM < LEAST_REACH_MM) {
    return refused(
      `the nozzle stands ${writtenMm(standoffMm)} over the sheet (lens ${request.lens.id}, standoff): a ramp would bring them together. Take the nozzle off or raise it, and state the standoff in the profile`,
    );
  }
  const slope = slopeOf(built.value, kind, standoffMm);
  if (machine.travel.xMm < LENGTH_MM + 2 * MARGIN_MM)
    return refused(`the bed of ${machine.id} is too short for a ramp`);
  const piece = rampPiece(request, built.value, slope);
  if (piece.value === null) return piece;
  const { name } = request;
  return done({
    files: [
      { name: `${name}.gcode`, text: pieceProgram(piece.value, machine, notesOf(request, slope)) },
      { name: `${name}.svg`, text: pieceArtwork(piece.value) },
      { name: `${name}.job.yaml`, text: pieceSidecar(request, withoutFocus(piece.value), { xMm: 0, yMm: 0 }, ABOUT) },
      { name: `${name}.results.yaml`, text: resultsText(request, slope) },
    ],
    steps: stepsOf(request, slope, piece.value),
  });
}

function slopeOf(setup: Setup, kind: Slope['kind'], standoffMm: number): Slope {
  const wanted = Math.max(USEFUL_REACH_MM, Math.ceil(RAYLEIGH_RANGES * setup.beam.rayleighMm));
  const travel =
    kind === 'driven' ? (setup.machine.travel.zMm ?? Number.POSITIVE_INFINITY) / 2 : Number.POSITIVE_INFINITY;
  const reachMm = Math.max(LEAST_REACH_MM, Math.floor(Math.min(wanted, travel, standoffMm - CLEARANCE_MM)));
  return { kind, nearMm: reachMm, farMm: -reachMm, lengthMm: LENGTH_MM };
}

function rampPiece(request: RampRequest, setup: Setup, slope: Slope): Outcome<Piece> {
  const recipe = lineRecipe(setup);
  if (recipe.value === null) return recipe;
  const left = MARGIN_MM;
  const label = pieceLabel(labelWords(request), left, MARGIN_MM, slope.lengthMm);
  const low = MARGIN_MM + label.heightMm + DIGIT_MM + 1 + TICK_MM + 1;
  const height = low + (LINES - 1) * LINE_GAP_MM + MARGIN_MM;
  const ticks: PieceStroke[] = [...label.strokes];
  for (let mm = 0; mm <= slope.lengthMm; mm += NUMERAL_EVERY_MM / 2) {
    const long = mm % NUMERAL_EVERY_MM === 0;
    const top = low - 1;
    ticks.push(line(left + mm, top, left + mm, top - (long ? TICK_MM : TICK_MM / 2)));
    if (!long) continue;
    const digits = left + mm - textWidthMm(String(mm), DIGIT_MM) / 2;
    ticks.push(...textStrokes(String(mm), digits, low - 1 - TICK_MM - 1 - DIGIT_MM, DIGIT_MM));
  }
  const common = { ...recipe.value, passes: 1, focusStepMm: 0 };
  // On a tilted board the marks lie in the same slope; with a driven waist they are scored in focus.
  const marks: PieceGroup = { id: 'marks', name: 'marks', ...common, focusMm: 0, strokes: ticks };
  const lines: PieceGroup = {
    id: 'ramp',
    name: 'ramp',
    ...common,
    focusMm: slope.kind === 'driven' ? slope.nearMm : 0,
    strokes: Array.from({ length: LINES }, (_, i) => {
      const y = low + i * LINE_GAP_MM;
      const end = { x: left + slope.lengthMm, y };
      return {
        x: left,
        y,
        segments: [slope.kind === 'driven' ? { ...end, waistMm: slope.farMm } : end],
      };
    }),
  };
  const title = `focus ramp: ${request.material.name}, ${request.machine.id}, ${request.lens.id} lens, ${slope.kind === 'driven' ? 'the waist is driven' : 'the board is tilted'}, ${request.today}`;
  const cautions = pieceCautions(request.material);
  return done({ title, cautions, widthMm: slope.lengthMm + 2 * MARGIN_MM, heightMm: height, groups: [marks, lines] });
}

/** A setting and speed that score the sheet lightly: the weakest power that reaches the depth at a brisk speed. */
function lineRecipe(setup: Setup): Outcome<{ setting: number; speedMmPerS: number }> {
  const { machine } = setup;
  const { speedMmPerS: machineSpeed, accelerationMmPerS2 } = machine.motion;
  const fastest = Math.min(FASTEST_MM_PER_S, machineSpeed, Math.sqrt(accelerationMmPerS2 * MARK_STROKE_MM));
  const speedMmPerS = roundTo(fastest, 0);
  const depthMm = Math.min(DEPTH_MM, setup.thicknessMm / 4);
  const lowest = Math.ceil((machine.source.floor ?? 0.1) * 100 + 1);
  const highest = Math.floor((machine.source.ceiling ?? 1) * 100);
  for (let percent = lowest; percent <= highest; percent++) {
    const power = fullPower(machine, percent / 100, { xMm: LENGTH_MM / 2, yMm: 0 });
    if (power.value === null) return power;
    const cut = cutOf(setup, { ...power.value, speedMmPerS, passes: 1, focusMm: 0 });
    if (percent === highest || marchedDepthMm(cut.beam, cut.stock, cut.passes) >= depthMm) {
      return done({ setting: percent / 100, speedMmPerS });
    }
  }
  return refused(`the firing floor of ${machine.id} is not below its ceiling`);
}

function notesOf(request: RampRequest, slope: Slope): string[] {
  if (slope.kind === 'driven') {
    return [
      `the waist runs from ${writtenMm(slope.nearMm)} above the face to ${writtenMm(-slope.farMm)} below it`,
      `focus with the gauge as always, standoff ${request.lens.standoffMm === null ? 'of the lens' : writtenMm(request.lens.standoffMm)}`,
    ];
  }
  return [
    `raise the end at 100 by ${writtenMm(slope.nearMm - slope.farMm)} over the end at 0`,
    'focus with the gauge as always, at the tick 50',
  ];
}

function stepsOf(request: RampRequest, slope: Slope, piece: Piece): string[] {
  const { name } = request;
  const size = `${writtenMm(piece.widthMm)} by ${writtenMm(piece.heightMm)}`;
  const lay =
    slope.kind === 'driven'
      ? [`Lay a flat scrap, ${size} or more, at the machine's own corner and set the focus with the gauge as always.`]
      : [
          `Lay a flat board, ${size} or more, at the machine's own corner, and pack it up so that over the ${writtenMm(slope.lengthMm)} of the ramp it rises by ${writtenMm(slope.nearMm - slope.farMm)}, low at the end marked 0. See that the nozzle clears the high end.`,
          'Set the focus with the gauge as always, over the tick 50.',
        ];
  return [
    materialCaution(request.material),
    ...lay,
    `Run ${name}.gcode (air on).`,
    'Reading rule: find the stretch in which the lines are at their narrowest and all alike; read where it begins and where it ends against the ticks (mm from the end marked 0), over all three lines.',
    `Write both into ${name}.results.yaml, then: kerflint calibrate ${name}.results.yaml`,
    `If the focus is where it should be, the middle of that stretch is at ${formatMm(slope.lengthMm / 2, 0)}.`,
  ];
}

/** The waist runs along the lines, so that no one focus can be planned for them. */
function withoutFocus(piece: Piece): Piece {
  return { ...piece, groups: piece.groups.map((group) => ({ ...group, focusMm: 0 })) };
}

function resultsText(request: RampRequest, slope: Slope): string {
  return yamlText([
    ...editorLine(request.schemas, 'coupon-results'),
    'Fill in where the lines are at their narrowest, then: kerflint calibrate <this file>',
    ...pieceCautions(request.material),
    ...setUpLines(request),
    dateLine(request),
    [
      'ramp',
      {
        near: remarked(writtenMm(slope.nearMm), 'where the waist stood over the face at the end marked 0'),
        far: remarked(writtenMm(slope.farMm), 'and at the end marked 100'),
        length: writtenMm(slope.lengthMm),
        sharpest: { from: remarked(null, 'mm from the end marked 0, as 44 mm'), to: null },
      },
    ],
  ]);
}
