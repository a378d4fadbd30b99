import type { Source } from '../source/source.ts';
import type { Artwork } from './artwork.ts';
import type { ProgramEditor } from './editing.ts';
import type { HeadLimits } from './motion/head-limits.ts';
import type { Toolpath } from './toolpath.ts';

/**
 * What a reader of toolpaths needs to know of the controller and the motion system. Plain data: `src/facts` maps the machine's profile
 * onto it, and a reader leaves aside what its format has no use for.
 */
export interface ToolpathOptions extends HeadLimits {
  /** What carries the power setting, by the profile's word for it, and which number means full power. */
  power: { word: 'S' | 'M106' | 'analog'; full: number };
  /** What M4 does: power follows the speed the head really has, or stays constant. */
  m4: 'scaled-with-speed' | 'constant';
  /** Greatest difference between start and end radius of a centre arc that the controller accepts, mm. */
  arcToleranceMm: number;
  /** Wait for air assist to come on, s. */
  airDelayS: number;
  /** Codes, as the format writes them ("M42"), that leave beam, speed and motion alone on this machine, though the reader does not know them. */
  harmless: ReadonlySet<string>;
  /** Whether lines marked as optional are carried out; null where that is not known. */
  blockDelete: 'runs' | 'skipped' | null;
  /** Called now and then with the number of bytes read. */
  onProgress?: (bytes: number) => void;
}

/** What a reader of artwork needs to know. Plain data, as for toolpaths. */
export interface ArtworkOptions {
  /** For artwork without a physical size. */
  pxPerInch: number;
  /** Greatest distance between a curve and its flattened form, mm (default: the reader's own). */
  toleranceMm?: number;
  /** Most outline points kept before the reader stops with a problem. */
  maxPoints?: number;
}

/** How a format marks text that is no data. */
export interface CommentSyntax {
  opens: string;
  /** Null: the comment ends with its line. */
  closes: string | null;
  /** One that is not closed on its own line holds up to the line's end; else it is no comment of that line. */
  mayStayOpen?: true;
}

/** How a problem in a code of the reader's own becomes a finding of `input/syntax`. */
export interface ReaderProblem {
  /** Id of the message, unlike that of any other reader's. */
  messageId: string;
  /**
   * The message: what is wrong, and what to do. `{name}` stands for a value of the problem; those called text, href, attribute, root and
   * name repeat what the file says and are shown in quotes. `{more}` tells how often the problem occurs: left out where it can but once.
   */
  message: string;
  /** Where it is less than an error: motion, beam and outlines are as they are meant all the same. */
  severity?: 'warning' | 'note';
}

/** Begins comments that are addressed to kerflint: they say nothing of the strokes below them, so no reader makes a label of them. */
export const TO_KERFLINT = 'kerflint-';

/**
 * What a reader states of itself, without the code that reads: cheap to load, so that the files of a run can be told apart and the
 * readers that they need be loaded.
 */
interface ReaderTraits {
  /** Lower case, unlike any other reader's. */
  id: string;
  /** What people call the format. */
  name: string;
  /** Lower case with their dot, the usual one first. No reader that makes the other kind has the same. */
  extensions: readonly string[];
  /** Whether a file looks like this format by its first bytes: asked where extensions do not tell. */
  recognises(head: Uint8Array): boolean;
  /**
   * Extensions ('' for none) that files of many kinds have: among the files of a folder such a one counts as this format where it `tells`
   * by its first bytes (at most `UNCERTAIN_HEAD_BYTES`). It must be surer than `recognises`, since nobody said that it is one.
   */
  uncertain?: { extensions: readonly string[]; tells(head: Uint8Array): boolean };
  /** In the order in which they are looked for. */
  comments: readonly CommentSyntax[];
  /** The file as UTF-8, with as many characters and lines as the reader counts, for whoever looks up a line; `size` stays the file's. */
  asUtf8(source: Source): Source;
  /** Its own problem codes. */
  problems: Readonly<Record<string, ReaderProblem>>;
  /** Where it stands what the format asks: standard and edition. */
  standard: string;
}

/** The reading of toolpaths, loaded. */
export interface ToolpathReading {
  /**
   * Reads a file. Whatever its bytes, the answer is a partial model and its problems.
   * @throws SourceUnreadable when the bytes cannot be had
   */
  read(source: Source, options: ToolpathOptions): Toolpath;
  /**
   * Opens a file whose text is to be changed; absent where the format has no editor.
   * @throws SourceUnreadable from its methods, when the bytes cannot be had
   */
  edit?(source: Source, options: ToolpathOptions): Promise<ProgramEditor>;
}

/** The reading of artwork, loaded. */
export interface ArtworkReading {
  /**
   * Reads a file. Whatever its bytes, the answer is a partial model and its problems.
   * @throws SourceUnreadable when the bytes cannot be had
   */
  read(source: Source, options: ArtworkOptions): Artwork;
  /** A colour as people write it, as `DrawnElement.stroke` has it; null when it is none. */
  colourOf(text: string): string | null;
}

/** A format that toolpaths come in. */
export interface ToolpathReader extends ReaderTraits {
  makes: 'toolpath';
  load(): Promise<ToolpathReading>;
}

/** A format that artwork comes in. */
export interface ArtworkReader extends ReaderTraits {
  makes: 'artwork';
  load(): Promise<ArtworkReading>;
}

export type Reader = ToolpathReader | ArtworkReader;
