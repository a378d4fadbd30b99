import * as v from 'valibot';

const text = v.string();
const number = v.number();
const count = v.pipe(v.number(), v.integer(), v.minValue(0));
const fromOne = v.pipe(v.number(), v.integer(), v.minValue(1));
const severity = v.picklist(['error', 'warning', 'note']);
const status = v.picklist(['open', 'waived', 'baselined']);
const verdict = v.picklist(['pass', 'fail', 'incomplete']);
const anything = v.record(text, v.unknown());

const place = { file: text, line: fromOne, column: fromOne, endLine: fromOne, endColumn: fromOne };

const excerpt = v.object({
  startLine: fromOne,
  lines: v.array(text),
  startColumn: v.optional(v.pipe(fromOne, v.description('where the lines begin, when they are cut around the place'))),
});

const finding = v.object({
  rule: v.pipe(text, v.description('area/what-is-wrong')),
  messageId: text,
  severity,
  message: text,
  location: v.pipe(v.object(place), v.description('1-based; columns in UTF-16 units; the end column is exclusive')),
  excerpt: v.nullable(excerpt),
  related: v.array(v.object({ ...place, message: text })),
  hints: v.array(text),
  docs: v.pipe(text, v.description("path of the rule's page inside the package")),
  fingerprint: v.pipe(text, v.description('survives line shifts and re-numbering')),
  status,
  reason: v.optional(text),
  values: v.optional(
    v.pipe(
      v.record(text, v.union([number, text])),
      v.description('only of what whoever sent the job can put right: the values that an answer to them names'),
    ),
  ),
  data: v.optional(v.pipe(anything, v.description('the numbers behind a remedy, and published cuts that are named'))),
});

const bounds = v.object({ minX: number, minY: number, maxX: number, maxY: number });

const recipe = v.object({
  lens: text,
  setting: v.pipe(number, v.description('share of full power')),
  powerW: number,
  speedMmPerS: number,
  passes: count,
  focusMm: number,
  focusStepMm: number,
  throughProbability: v.pipe(number, v.minValue(0), v.maxValue(1)),
});

const reach = v.object({
  surest: v.pipe(recipe, v.description('the recipe that is likeliest to part the sheet')),
  proposed: v.pipe(v.nullable(recipe), v.description('the one to run; null where none reaches the limit')),
  limitedBy: v.pipe(
    v.array(v.object({ kind: text, value: v.nullable(number) })),
    v.description('what keeps the surest from being surer'),
  ),
  limit: number,
  thinner: v.optional(
    v.pipe(
      v.object({
        stacked: v.nullable(v.object({ layers: count, layerMm: number })),
        thickestMm: v.nullable(number),
      }),
      v.description('where nothing is proposed: sheets of the same material that the machine is sure to part'),
    ),
  ),
});

const cut = v.object({
  task: text,
  aim: text,
  lengthMm: number,
  passes: v.array(
    v.object({
      powerW: number,
      speedMmPerS: v.pipe(v.nullable(number), v.description('null where the toolpath states no feed')),
      focusMm: number,
    }),
  ),
  depthMm: v.nullable(number),
  depthLowMm: v.pipe(v.nullable(number), v.description('5th percentile')),
  depthHighMm: v.pipe(v.nullable(number), v.description('95th percentile')),
  throughProbability: v.nullable(v.pipe(number, v.minValue(0), v.maxValue(1))),
  kerfMm: v.nullable(number),
  basis: v.nullable(text),
  line: count,
  remedies: v.array(anything),
  reach: v.optional(
    v.pipe(reach, v.description('for a through cut of artwork without settings: what the machine can do about it')),
  ),
});

const time = v.object({
  totalS: number,
  cuttingS: number,
  rasterS: number,
  travelS: number,
  dwellS: number,
  basis: text,
});

const waste = v.object({
  currency: text,
  atStake: v.pipe(number, v.description('what a failed run costs')),
  expected: v.pipe(number, v.description('at stake, times the chance that it fails')),
  sheet: number,
  machine: number,
  operator: number,
  tube: number,
  energy: number,
});

const cure = v.object({
  lens: v.pipe(text, v.description('the lens to cut under')),
  otherLens: v.pipe(v.boolean(), v.description("it is another lens than the job's")),
  throughProbability: v.pipe(
    number,
    v.minValue(0),
    v.maxValue(1),
    v.description('of the least sure through cut of the job'),
  ),
  cuts: v.array(
    v.object({
      cut: v.pipe(count, v.description("index into the job's cuts")),
      text: v.pipe(v.nullable(text), v.description('what to do; null where only the lens changes')),
      passes: v.array(v.object({ powerW: number, setting: number, speedMmPerS: number, focusMm: number })),
      depthMm: v.nullable(number),
      depthLowMm: v.nullable(number),
      depthHighMm: v.nullable(number),
      throughProbability: v.nullable(v.pipe(number, v.minValue(0), v.maxValue(1))),
      kerfMm: v.nullable(number),
    }),
  ),
  time: v.pipe(v.nullable(time), v.description('of the job with the change; travel as in the file')),
  waste: v.pipe(v.nullable(waste), v.description('of the job with the change')),
});

/** One job of a result. */
export const jobResultSchema = v.object({
  name: text,
  verdict,
  headline: v.pipe(text, v.description('the verdict in a sentence, as every format shows it')),
  sidecar: v.nullable(text),
  machine: v.nullable(text),
  lens: v.nullable(text),
  material: v.nullable(text),
  thicknessMm: v.nullable(number),
  files: v.object({ toolpath: v.optional(text), artwork: v.optional(text) }),
  toolpath: v.optional(
    v.object({
      moves: count,
      cutLengthMm: v.pipe(number, v.description('powered, outside raster areas')),
      rapidLengthMm: v.pipe(
        number,
        v.description('all travel without power: rapids, and moves at the feed outside raster areas too'),
      ),
      timeS: number,
      boundsMm: v.nullable(bounds),
    }),
  ),
  artwork: v.optional(v.object({ outlines: count, lengthMm: number, boundsMm: v.nullable(bounds) })),
  inventedMachine: v.optional(
    v.pipe(
      v.literal(true),
      v.description("the machine's profile says that its numbers are made up, for a demonstration"),
    ),
  ),
  assumed: v.optional(
    v.pipe(
      v.array(
        v.object({
          key: v.pipe(text, v.description("key of the machine's profile that would state it")),
          value: v.union([number, text]),
          unit: v.nullable(text),
          basis: v.pipe(text, v.description('where the value comes from')),
          inDoubt: v.pipe(v.boolean(), v.description('how far it may be off is carried into the depth')),
        }),
      ),
      v.description('what of the machine nobody stated and was assumed, what is in doubt first'),
    ),
  ),
  narrows: v.optional(
    v.pipe(
      v.nullable(v.object({ key: text, fromShare: number, toShare: number })),
      v.description(
        'the measurement that would narrow the predicted depth most: half its 5 to 95 % band in the logarithm, before and after',
      ),
    ),
  ),
  tasks: v.pipe(v.array(v.object({ name: text, aim: text })), v.description('tasks of the job and what each is to do')),
  cuts: v.array(cut),
  cure: v.optional(
    v.pipe(
      cure,
      v.description(
        'a change of recipes that brings the cuts through and with which no rule finds an error; it stands in no file',
      ),
    ),
  ),
  noCure: v.optional(
    v.pipe(text, v.description('why no change is proposed, where cuts of a job with an error fall short')),
  ),
  time: v.nullable(time),
  waste: v.nullable(waste),
  findings: v.array(finding),
  notChecked: v.array(
    v.object({
      rule: text,
      kind: v.pipe(
        v.picklist(['not-applicable', 'failed', 'ended-early']),
        v.description('ended-early: a search that the rule rests on ended before it had looked at everything'),
      ),
      reason: text,
    }),
  ),
  incomplete: v.pipe(v.array(text), v.description('why the verdict is incomplete, in words')),
  unanswered: v.optional(
    v.pipe(
      v.array(
        v.object({
          fact: v.pipe(text, v.description('a stable word for what is missing: machine, material, thickness, …')),
          what: v.pipe(text, v.description('the question that stays open')),
          missing: v.pipe(text, v.description('the missing fact: the same text as in incomplete')),
          remedy: v.pipe(text, v.description('how to give it')),
        }),
      ),
      v.description('the reasons of incomplete as data, in the same order'),
    ),
  ),
});

const change = v.picklist(['new', 'risen', 'changed', 'gone']);

const measures = v.object({
  verdict,
  throughProbability: v.pipe(
    v.nullable(v.pipe(number, v.minValue(0), v.maxValue(1))),
    v.description('of the least likely cut that is to part the sheet'),
  ),
  depthMm: v.pipe(v.nullable(number), v.description('predicted for that cut, which may be beyond the sheet')),
  thicknessMm: v.nullable(number),
  timeS: v.nullable(number),
  atStake: v.nullable(number),
  expectedWaste: v.nullable(number),
  currency: v.nullable(text),
  lengthMm: v.pipe(v.nullable(number), v.description('cut by the toolpath or, without one, drawn in the artwork')),
});

const comparison = v.object({
  headline: v.pipe(text, v.description('the comparison in a sentence, as every format shows it')),
  gate: v.pipe(v.picklist(['all', 'new']), v.description('new: only what is new or risen fails the run')),
  base: v.object({ verdict, jobs: count, errors: count, warnings: count, notes: count }),
  findings: v.object({ new: count, risen: count, changed: count, gone: count, same: count }),
  jobs: v.pipe(
    v.array(
      v.object({
        name: text,
        is: v.picklist(['same', 'renamed', 'new', 'gone']),
        baseName: v.nullable(text),
        before: v.nullable(measures),
        after: v.nullable(measures),
        findings: v.array(
          v.object({
            change: v.pipe(
              change,
              v.description(
                'risen: graver, more often there, or no longer set aside; changed: neither, but not as it was',
              ),
            ),
            rule: text,
            severity,
            status,
            message: text,
            file: text,
            line: fromOne,
            fingerprint: text,
            before: v.optional(v.object({ severity, status, message: text })),
          }),
        ),
      }),
    ),
    v.description('jobs of which something is not as it was'),
  ),
  unchangedJobs: count,
  notInRun: v.pipe(count, v.description('jobs of the base that are still there and were not part of this run')),
});

/**
 * What `--format json` prints and `join` reads. The types of src/findings are the contract; a test holds the two equal.
 * Keys may be added within a version, so readers must ignore keys that they do not know.
 */
export const resultSchema = v.pipe(
  v.object({
    schemaVersion: v.literal(1),
    tool: v.object({ name: v.literal('kerflint'), version: text }),
    verdict: v.pipe(verdict, v.description('fail when an open error stands; incomplete beats fail')),
    headline: v.pipe(text, v.description('the verdict in a sentence, as every format shows it')),
    caution: v.pipe(text, v.description('the usual cautions of the trade, whatever was found')),
    summary: v.object({
      jobs: count,
      errors: count,
      warnings: count,
      notes: count,
      waived: count,
      baselined: count,
      notChecked: count,
    }),
    jobs: v.array(jobResultSchema),
    shard: v.optional(
      v.pipe(v.object({ index: fromOne, of: fromOne }), v.description('which part of a divided run this is')),
    ),
    notCheckedFiles: v.pipe(
      v.array(v.object({ file: text, reason: text })),
      v.description('the same as leftOut in fewer words, for readers that are older than it'),
    ),
    leftOut: v.pipe(
      v.array(
        v.object({
          path: text,
          kind: v.picklist(['toolpath', 'artwork', 'sidecar', 'folder', 'other']),
          reason: text,
          incomplete: v.pipe(v.boolean(), v.description('the run is incomplete for it')),
          changed: v.optional(
            v.pipe(v.literal(true), v.description('it is in the list of changed files that the run was given')),
          ),
        }),
      ),
      v.description('files and folders among those searched that were not judged'),
    ),
    passedBy: v.pipe(
      v.object({ excluded: count, git: count, nodeModules: count, hiddenFolders: count, otherFiles: count }),
      v.description('how much of the searched folders was passed by without being listed'),
    ),
    judgedBy: v.optional(
      v.pipe(
        v.object({ today: text, settings: text, shop: text }),
        v.description('the day, and digests of settings and shop: --against takes only a result of the same'),
      ),
    ),
    comparison: v.optional(v.pipe(comparison, v.description('this run held against the one named by --against'))),
  }),
  v.title('kerflint result'),
  v.description('The result of kerflint check. Paths are relative to the root, with /.'),
);
