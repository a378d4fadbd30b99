import * as v from 'valibot';
import {
  count,
  date,
  length,
  money,
  powerSetting,
  quantity,
  strict,
  thickness,
  version,
  words,
} from '../yaml/shape.ts';

/** The sidecar, `<name>.job.yaml`: what is declared about a job. */

const path = (describe: string) => words(describe, 400);

/** No machine of this trade moves its waist further from the sheet than this. */
const focus = (describe: string) => quantity('length', describe, { sign: 'any', max: { value: 200, text: '200 mm' } });

const task = strict({
  name: words('what this group of strokes is called'),
  aim: v.pipe(
    v.picklist(['through', 'groove', 'surface']),
    v.description('through: the sheet must part; groove: a line of limited depth; surface: an area is marked'),
  ),
  strokes: v.optional(
    v.pipe(
      strict({
        stroke: v.optional(words('stroke colour in the artwork')),
        layer: v.optional(words('layer in the artwork')),
        class: v.optional(words('class in the artwork')),
        id: v.optional(words('id in the artwork')),
      }),
      v.check((said) => Object.keys(said).length > 0, 'name at least one of stroke, layer, class or id'),
      v.description('which strokes of the artwork; every given key must fit; left out: all that no other task selects'),
    ),
  ),
  program: v.optional(
    v.pipe(
      strict({
        comment: v.optional(words('text of a comment in the toolpath, before the moves')),
        tool: v.optional(count('tool number in the toolpath', 0, 1_000_000)),
        feed: v.optional(quantity('speed', 'programmed feed')),
        power: v.optional(powerSetting('programmed power')),
      }),
      v.check((said) => Object.keys(said).length > 0, 'name at least one of comment, tool, feed or power'),
      v.description('which moves of the toolpath; left out: matched by geometry'),
    ),
  ),
  power: v.nullish(powerSetting('power as planned, of full power or at the work; left empty: still to be filled in')),
  speed: v.nullish(quantity('speed', 'speed as planned; left empty: still to be filled in')),
  passes: v.optional(count('number of passes as planned', 1, 100)),
  focus: v.optional(focus("the waist above (+) or below (-) the sheet's top face")),
  'focus-step': v.optional(focus('change of focus from one pass to the next, usually negative')),
  air: v.optional(quantity('pressure', 'air assist', { sign: 'not-negative', max: { value: 20, text: '20 bar' } })),
});

const waiver = strict({
  rule: words('id of the rule, area/what-is-wrong'),
  reason: v.optional(words('why this finding may stand', 500)),
  until: v.optional(date('last day on which it may stand')),
});

export const sidecarSchema = v.pipe(
  strict({
    kerflint: version,
    machine: v.nullish(path('id of a *.machine.yaml, or a relative path to one; without it the job is incomplete')),
    lens: v.optional(words("one of that machine's lenses", 64)),
    material: v.nullish(
      words('id or alias of a material; `unknown` is an honest answer; without it the job is incomplete', 80),
    ),
    thickness: v.nullish(
      thickness(
        'measured, with its tolerance; `nominal 6 mm` when it was not measured; without it the job is incomplete',
      ),
    ),
    face: v.optional(v.pipe(v.picklist(['masked', 'bare']), v.description('is the face covered with masking tape?'))),
    mirror: v.optional(v.pipe(v.picklist(['up', 'down']), v.description('where the mirror coating lies, if any'))),
    bow: v.optional(length('how far the sheet stands off the bed at its worst', 'not-negative')),
    sheet: v.optional(
      strict({
        width: length('width of the sheet, along X'),
        height: length('height of the sheet, along Y'),
        price: v.optional(money('price of the whole sheet')),
        at: v.optional(
          v.pipe(
            strict({ x: length('X of its near corner', 'any'), y: length('Y of its near corner', 'any') }),
            v.description('where the near corner of the sheet lies on the bed; left out: 0, 0'),
          ),
        ),
      }),
    ),
    zero: v.optional(
      v.pipe(v.picklist(['machine', 'sheet-corner', 'set-by-hand']), v.description('what X0 Y0 of the toolpath means')),
    ),
    toolpath: v.optional(path('file with the toolpath, such as G-code, relative to this file')),
    artwork: v.optional(path('file with the artwork, such as SVG, relative to this file')),
    tasks: v.optional(v.pipe(v.array(task), v.maxLength(200, 'more than 200 tasks'))),
    waive: v.optional(v.pipe(v.array(waiver), v.maxLength(200, 'more than 200 waivers'))),
    budget: v.optional(money('the most that a failed run may be expected to cost')),
  }),
  v.title('kerflint job'),
  v.description('A sidecar: declares the sheet, the machine and the aims of one laser-cutting job.'),
);

export type SidecarText = v.InferOutput<typeof sidecarSchema>;
