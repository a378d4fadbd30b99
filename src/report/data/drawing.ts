import * as v from 'valibot';
import type { JobPictures } from '../../facts/drawing/drawing-model.ts';
import type { RunResult } from '../../findings/result.ts';
import { jsonText } from '../escape.ts';
import type { Format, ReportContext } from '../report-context.ts';
import { drawingSchema, MOST_DRAWN } from './drawing-schema.ts';

/** What the pictures of a run are drawn from (schemas/drawing.schema.json), for whoever draws them elsewhere, or later. */
export const drawing: Format = {
  open(_, { tool }) {
    let opening = `${compact({ drawingVersion: 1, tool }).slice(0, -1)},"jobs":[`;
    let next = '';
    return {
      job(_result, pictures) {
        if (pictures === null) return '';
        const text = `${opening}${next}${compact(pictures)}`;
        opening = '';
        next = ',';
        return text;
      },
      end: ({ headline, caution }) => [`${opening}],${compact({ headline, caution }).slice(1)}\n`],
    };
  },
};

/** A number that may be larger than any that is drawn: looked for in the text, for a drawing has half a million numbers and none such. */
const MAYBE_TOO_LARGE = /[:,[-]\d{13}|e\+/;

function compact(value: unknown): string {
  const text = JSON.stringify(value);
  return jsonText(MAYBE_TOO_LARGE.test(text) ? JSON.stringify(value, asLargeAsDrawn) : text);
}

/** A program may say S1e40 or F1e-40: of what comes of it the most is written that a drawing holds. */
function asLargeAsDrawn(_key: string, value: unknown): unknown {
  return typeof value === 'number' ? Math.min(MOST_DRAWN, Math.max(-MOST_DRAWN, value)) : value;
}

/**
 * Reads what {@link drawing} wrote for a result, by the job's name. Whatever the text, nothing is taken from it that does not fit: a
 * drawing of another run or with numbers that lead nowhere is refused as a whole.
 * @returns the pictures, or why there are none, as the end of a sentence: "is no drawing of kerflint (version 1)"
 */
export function readDrawing(
  text: string,
  result: RunResult,
): { pictures: NonNullable<ReportContext['pictures']> } | { refused: string } {
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch {
    return { refused: 'is not JSON' };
  }
  const parsed = v.safeParse(drawingSchema, data);
  if (!parsed.success) {
    const at = parsed.issues[0].path?.map(({ key }) => String(key)).join('.') ?? '';
    return { refused: `is no drawing of kerflint (version 1)${at === '' ? '' : `: ${at} is wrong`}` };
  }
  const pictures = new Map<string, JobPictures>();
  for (const one of parsed.output.jobs) {
    const { job } = one.drawing;
    const known = result.jobs.find(({ name }) => name === job);
    const sameCuts =
      known?.cuts.length === one.drawing.cuts.length &&
      known.cuts.every(({ task }, i) => task === one.drawing.cuts[i]!.task && one.drawing.cuts[i]!.cut === i);
    if (!sameCuts || parsed.output.tool.version !== result.tool.version)
      return { refused: `is not of the same run: its job ${job} has other cuts` };
    if (!leadsSomewhere(one.drawing)) return { refused: `counts pieces of the job ${job} that are not there` };
    pictures.set(job, one);
  }
  return { pictures };
}

/** Do all indices of a drawing lead to something? */
function leadsSomewhere({ cuts, areas, pieces, pieceCount }: JobPictures['drawing']): boolean {
  if (pieceCount < pieces.length) return false;
  return pieces.every(({ cut, area, drawnBy }) => {
    const lines = cut === null ? null : cuts[cut]?.lines;
    const hasLine = drawnBy === null || (lines?.[drawnBy]?.length ?? 0) >= 4;
    return lines !== undefined && hasLine && (area === null || areas[area] !== undefined);
  });
}
