import * as v from 'valibot';

const text = v.string();
/** JSON can write numbers that no reader holds (1e999): those are none. Nothing that is drawn is larger than this, in its own unit. */
export const MOST_DRAWN = 1e12;
const number = v.pipe(v.number(), v.minValue(-MOST_DRAWN), v.maxValue(MOST_DRAWN));
const count = v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(1e9));
const fromOne = v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(1e9));
const share = v.pipe(v.number(), v.minValue(0), v.maxValue(1));
const aim = v.picklist(['through', 'groove', 'surface']);
const hazard = v.object({ class: v.picklist(['never', 'reconsider', 'extract', 'usual']), reason: text });
const box = v.object({ minX: number, minY: number, maxX: number, maxY: number });
const lines = v.pipe(v.array(v.array(number)), v.description('chains of points x0, y0, x1, y1, … in mm'));

const detail = v.object({
  withinMm: v.pipe(number, v.description('greatest distance between a line and what is drawn of it')),
  corners: v.pipe(count, v.description('corners that the lines have')),
  kept: v.pipe(count, v.description('corners that are drawn')),
});

const drawnCut = v.object({
  cut: v.pipe(count, v.description("index into the result's cuts")),
  task: text,
  aim,
  probability: v.pipe(v.nullable(share), v.description('that it parts the sheet; null when not predicted')),
  depthMm: v.nullable(number),
  depthLowMm: v.nullable(number),
  depthHighMm: v.nullable(number),
  recipe: text,
  speedMmPerS: v.nullable(number),
  file: text,
  line: count,
  lines,
});

const drawnArea = v.object({
  task: v.nullable(text),
  ...box.entries,
  meanJPerMm2: v.nullable(number),
  peakJPerMm2: v.nullable(number),
  pitchMm: number,
  file: text,
  line: count,
});

const piece = v.object({
  cut: v.pipe(v.nullable(count), v.description('index into cuts; null for an area')),
  drawnBy: v.pipe(v.nullable(count), v.description('index into the lines of its cut; null where none draws it')),
  area: v.pipe(v.nullable(count), v.description('index into areas; null for a line')),
  inProgram: v.pipe(
    v.boolean(),
    v.description('the toolpath cuts it: its place in the list is that in the order of cutting'),
  ),
  atX: v.pipe(number, v.description('where the beam begins on it')),
  atY: number,
  lengthMm: v.pipe(number, v.description('of one run along it')),
  timeS: v.pipe(v.nullable(number), v.description('all passes')),
  file: text,
  line: count,
});

const pieceTimes = v.object({
  alike: v.array(v.object({ task: text, pieces: count, first: fromOne, totalS: number })),
  others: v.object({ pieces: count, totalS: number }),
});

const lens = v.object({
  id: text,
  fitted: v.boolean(),
  focalMm: number,
  atLensMm: v.pipe(number, v.description('1/e² diameter of the beam where it leaves the lens')),
  spotMm: number,
  depthOfFocusMm: number,
  standoffMm: v.nullable(number),
  focusMm: v.array(number),
  beam: v.array(v.object({ zMm: number, diameterMm: number })),
  depthAfterPassMm: v.array(number),
  depthMm: number,
  depthLowMm: number,
  depthHighMm: number,
  probability: share,
  limit: v.pipe(share, v.description('what the probability is held to')),
  kerfTopMm: v.nullable(number),
  kerfBottomMm: v.nullable(number),
});

const section = v.object({
  cut: count,
  task: text,
  material: text,
  thicknessMm: number,
  action: v.pipe(v.nullable(text), v.description('the one thing to do')),
  lenses: v.array(lens),
});

const reachDepth = v.object({ speedMmPerS: number, depthMm: number, lowMm: number, highMm: number, sureMm: number });

const citedCut = v.object({
  id: text,
  source: text,
  citation: text,
  kind: v.picklist(['co2', 'diode', 'fibre']),
  material: text,
  thicknessMm: number,
  ratedW: number,
  setting: v.nullable(number),
  powerW: number,
  speedMmPerS: number,
  passes: count,
  focusMm: number,
  focalMm: v.nullable(number),
  outcome: v.picklist(['cut', 'not', 'limit']),
  depthMm: v.nullable(number),
  use: v.picklist(['daily', 'test', 'bracket']),
  quality: v.picklist(['A', 'B', 'C']),
  worn: v.boolean(),
  inferred: v.array(text),
  note: v.nullable(text),
  predictedDepthMm: number,
  throughProbability: share,
});

const reach = v.object({
  machine: text,
  source: text,
  material: text,
  hazard,
  onlyIf: v.nullable(text),
  basis: text,
  setting: number,
  powerW: number,
  passes: count,
  focusMm: v.nullable(number),
  floorMmPerS: v.nullable(number),
  lenses: v.array(
    v.object({ id: text, spotMm: number, depthOfFocusMm: number, points: v.array(reachDepth), greatest: reachDepth }),
  ),
  published: v.array(v.object({ speedMmPerS: number, cut: citedCut })),
  publishedElse: count,
});

const goal = v.object({
  lens: text,
  speedMmPerS: number,
  passes: count,
  setting: number,
  probability: share,
  points: v.pipe(v.array(reachDepth), v.description('what parts with 90 % with that recipe')),
});

const settings = {
  setting: v.nullable(number),
  powerW: v.nullable(number),
  speedMmPerS: v.nullable(number),
  passes: count,
  focusMm: v.nullable(number),
  focusStepMm: number,
};

const card = v.object({
  machine: v.nullable(text),
  lens: v.nullable(text),
  standoffMm: v.nullable(number),
  recipes: v.array(
    v.object({
      task: text,
      aim,
      file: text,
      line: count,
      stated: v.nullable(v.object(settings)),
      airBar: v.nullable(number),
      proposed: v.pipe(
        v.nullable(
          v.object({ ...settings, otherLens: v.nullable(v.object({ id: text, standoffMm: v.nullable(number) })) }),
        ),
        v.description('what would bring it through and stands in no file'),
      ),
    }),
  ),
  moreRecipes: count,
  material: v.nullable(text),
  thicknessMm: v.nullable(number),
  face: v.nullable(v.picklist(['masked', 'bare'])),
  mirror: v.nullable(v.picklist(['up', 'down'])),
  bowMm: v.nullable(number),
  zero: v.nullable(v.picklist(['machine', 'sheet-corner', 'set-by-hand'])),
  sheet: v.nullable(v.object({ widthMm: number, heightMm: number })),
  hazard: v.nullable(hazard),
  watch: v.nullable(v.object({ task: text, probability: share, line: count, file: text })),
});

const coupon = v.object({
  thicknessMm: number,
  speedMmPerS: number,
  powerW: number,
  passes: count,
  through: v.nullable(v.boolean()),
  depthMm: v.nullable(number),
});

/** What pictures of one job are drawn from. */
export const jobDrawingSchema = v.object({
  job: v.pipe(text, v.description("the job's name in the result")),
  yUp: v.pipe(
    v.boolean(),
    v.description("the frame is the toolpath's, Y up; false: the page's of artwork alone, Y down"),
  ),
  view: v.pipe(box, v.description('all that is drawn lies in here, the sheet included')),
  sheet: v.nullable(box),
  bed: v.pipe(v.nullable(box), v.description("what the machine's axes reach")),
  cuts: v.array(drawnCut),
  artwork: lines,
  areas: v.array(drawnArea),
  travels: lines,
  detail: v.object({ cuts: detail, artwork: detail, travels: detail }),
  leftOut: v.pipe(count, v.description('travel moves beyond those that the reader keeps')),
  pieces: v.pipe(v.array(piece), v.description('the work in cutting order; the first ones of very many')),
  pieceCount: count,
  pieceTimes,
  section: v.nullable(section),
  curedSection: v.pipe(v.nullable(section), v.description('the same cut with the change that would bring it through')),
  reach: v.nullable(reach),
  goTo: v.pipe(v.nullable(goal), v.description('a recipe that is proposed, on the chart of reach')),
  card,
  tasks: v.array(v.object({ name: text, aim, lengthMm: number, timeS: number })),
  pins: v.array(v.object({ fingerprint: text, x: number, y: number })),
  coupons: v.array(coupon),
});

const around = v.object({ fingerprint: text, startLine: fromOne, lines: v.array(text) });

/**
 * What `--format drawing` prints and `join` reads beside a result. The types of src/facts/drawing are the contract; a test holds the two
 * equal. Keys may be added within a version, so readers must ignore keys that they do not know.
 */
export const drawingSchema = v.pipe(
  v.object({
    drawingVersion: v.literal(1),
    tool: v.object({ name: v.literal('kerflint'), version: text }),
    headline: v.pipe(text, v.description('the verdict of the run in a sentence, as every format shows it')),
    caution: v.pipe(text, v.description('the usual cautions of the trade')),
    jobs: v.array(
      v.object({
        drawing: jobDrawingSchema,
        around: v.pipe(v.array(around), v.description('lines of the files around each finding')),
      }),
    ),
  }),
  v.title('kerflint drawing'),
  v.description('What the pictures of a kerflint report are drawn from, beside its result. All in mm and s.'),
);
