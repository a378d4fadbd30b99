import { type Source, wholeText } from '../../source/source.ts';
import type { SourceKind } from '../model.ts';

/** Name of the file below `data` that holds the published cuts, written by `npm run fit`. */
export const CITED_CUTS_NAME = 'published-cuts.json';

const LIMIT_BYTES = 512 * 1024;

/**
 * A published cut with its citation and with what the catalogue says of it, ready to be shown beside a prediction. Those that are fitted
 * stand in `data/evidence`; these are the same, predicted once, so that no run has to.
 */
export interface CitedCut {
  /** Of its own among all sources. */
  readonly id: string;
  /** Short name of the source. */
  readonly source: string;
  /** Where it was published. */
  readonly citation: string;
  readonly kind: SourceKind;
  /** Id of a material of the catalogue. */
  readonly material: string;
  readonly thicknessMm: number;
  /** The seller's power. */
  readonly ratedW: number;
  /** Set share of full power; null where watts at the work were published. */
  readonly setting: number | null;
  /** Watts at the work: as published, or what such a source is taken to give at that setting. */
  readonly powerW: number;
  /** As published; on small parts the head may not reach it. */
  readonly speedMmPerS: number;
  readonly passes: number;
  /** Waist above (+) or below (−) the face; 0 where it is not stated. */
  readonly focusMm: number;
  /** Null where the source does not state it. */
  readonly focalMm: number | null;
  /** `limit`: the highest speed at which it still parted. */
  readonly outcome: 'cut' | 'not' | 'limit';
  /** Measured, where it did not part; else null. */
  readonly depthMm: number | null;
  /** A `daily` setting has a margin that is not stated. */
  readonly use: 'daily' | 'test' | 'bracket';
  /** A: all stated by one who cut it; B: one thing inferred; C: two or more. */
  readonly quality: 'A' | 'B' | 'C';
  /** A worn or dirty machine by the source's own words. */
  readonly worn: boolean;
  /** What of it is inferred. */
  readonly inferred: readonly string[];
  readonly note: string | null;
  /** What the catalogue makes of it: median depth, and P(it parts), on a machine such as its source describes. */
  readonly predictedDepthMm: number;
  readonly throughProbability: number;
}

/** The file: citations by source, and the cuts without them. */
export interface CitedCutsFile {
  sources: Record<string, string>;
  cuts: Omit<CitedCut, 'citation'>[];
}

/**
 * Reads the file of published cuts. It ships with kerflint and is no input: one that is broken is a fault of ours.
 * @throws SourceUnreadable, SyntaxError
 */
export function readCitedCuts(source: Source): CitedCut[] {
  const { sources, cuts } = JSON.parse(wholeText(source, LIMIT_BYTES)) as CitedCutsFile;
  return cuts.map((cut) => ({ ...cut, citation: sources[cut.source] ?? cut.source }));
}
