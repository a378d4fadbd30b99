import type { ArtworkProblemCode } from '../model/problem-codes.ts';
import type { ReaderProblem } from '../model/reader.ts';

/** The reader's id, which artwork that it made bears. */
export const SVG = 'svg';

/** What is wrong with an SVG file beyond what any artwork may have wrong, in words; the order is that of the rule's page. */
export const SVG_PROBLEMS = {
  'not-xml': {
    messageId: 'notXml',
    message: 'The file is not well-formed XML: {reason}{more}. Export it again as plain SVG.',
  },
  'not-svg': {
    messageId: 'notSvg',
    message: 'The file’s root element is {root} and not svg. Export the artwork as SVG.',
  },
  empty: { messageId: 'emptyArtwork', message: 'The artwork file is empty. Export it again.' },
  /** svgz. */
  compressed: {
    messageId: 'compressed',
    message: 'The artwork is compressed (svgz), which is refused. Save it as plain SVG.',
  },
  /** Entities of a document type declaration that are more than short plain text. */
  entity: {
    messageId: 'entity',
    message:
      'The document declares or uses the entity {name}{more}; entities are not expanded here. Export as plain SVG without a document type.',
    severity: 'warning',
  },
  'too-deep': {
    messageId: 'tooDeep',
    message: 'Elements are nested deeper than {limit} levels; what lies deeper was not read. Flatten the groups.',
  },
  'too-many-elements': {
    messageId: 'tooManyElements',
    message:
      'More than {limit} elements come out of the file’s references; the rest was not drawn. Expand symbols and copies only where they are needed.',
  },
  'too-many-points': {
    messageId: 'tooManyPoints',
    message: 'The outlines have more than {limit} points; the rest was not read. Simplify the paths, or split the job.',
  },
  'circular-use': {
    messageId: 'circularUse',
    message: 'The reference to {href} leads back to itself{more}. Take out the loop.',
  },
  'missing-reference': {
    messageId: 'missingReference',
    message:
      'The reference to {href} leads nowhere{more}, so nothing is drawn for it. Restore what it names, or take it out.',
    severity: 'warning',
  },
  /** Drawn up to the error. */
  'bad-path': {
    messageId: 'badPath',
    message:
      'Path data is malformed at character {at}, near {text}{more}; as SVG asks, the path is drawn up to there and no further. Correct the path.',
  },
  'bad-value': {
    messageId: 'badValue',
    message: 'The value {text} of {attribute} cannot be read{more} and is ignored. Correct it.',
    severity: 'warning',
  },
  'bad-transform': {
    messageId: 'badTransform',
    message:
      'The transform {text} cannot be read{more} and is ignored, so what it moves lies in the wrong place. Correct it.',
  },
  'number-out-of-range': {
    messageId: 'artworkNumber',
    message: 'The number {text} of {attribute} is beyond what is drawn{more}. Correct it.',
  },
  'zero-size': {
    messageId: 'zeroSize',
    message: 'The drawing area has no size (width, height or viewBox of 0), so nothing is drawn. Give it a size.',
  },
  /** CSS that cannot be taken. */
  'bad-style': {
    messageId: 'badStyle',
    message: 'The style {text} cannot be read{more} and is ignored: strokes may be selected wrongly. Correct it.',
    severity: 'warning',
  },
} as const satisfies Record<string, ReaderProblem>;

/** What the reader of SVG may report: problems of any artwork, and its own. */
export type SvgProblemCode = ArtworkProblemCode | keyof typeof SVG_PROBLEMS;
