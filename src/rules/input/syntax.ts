import type { JobFacts } from '../../facts/facts.ts';
import type { ArtworkProblemCode, Location, Problem, ToolpathProblemCode } from '../../facts/types.ts';
import type { Severity } from '../../findings/finding.ts';
import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import {
  artworkProblems,
  groupOf,
  inArtwork,
  inSidecar,
  inToolpath,
  relatedPlaces,
  toolpathProblems,
} from '../places.ts';
import { argumentsOf, type Reading } from '../reading.ts';
import { defineRule } from '../rule.ts';
import { formatCount } from '../wording.ts';

/** What the reader of toolpaths could not take, by its code. Codes left out are judged by rules of their own. */
const TOOLPATH: Partial<Record<ToolpathProblemCode, Reading>> = {
  'unreadable-word': { messageId: 'word', args: ['text', 'reason'] },
  'line-too-long': { messageId: 'lineTooLong', args: ['length', 'limit'] },
  binary: { messageId: 'binary', args: ['byte'] },
  empty: { messageId: 'emptyToolpath', args: [] },
  'arc-no-centre': { messageId: 'arcNoCentre', args: [] },
  'arc-radius-too-small': { messageId: 'arcRadius', args: ['radiusMm', 'chordMm'] },
  'negative-power': { messageId: 'negativePower', args: ['value'] },
  'power-without-beam': { messageId: 'noBeam', args: ['value'], severity: 'warning' },
  'number-out-of-range': { messageId: 'toolpathNumber', args: ['text', 'limit'] },
  checksum: { messageId: 'checksum', args: ['text'], severity: 'warning' },
  'after-end': { messageId: 'afterEnd', args: ['lines'], severity: 'warning' },
};

/** Likewise for artwork. */
const ARTWORK: Partial<Record<ArtworkProblemCode, Reading>> = {
  'not-xml': { messageId: 'notXml', args: ['reason'] },
  'not-svg': { messageId: 'notSvg', args: ['root'] },
  empty: { messageId: 'emptyArtwork', args: [] },
  compressed: { messageId: 'compressed', args: [] },
  entity: { messageId: 'entity', args: ['name'], severity: 'warning' },
  'too-deep': { messageId: 'tooDeep', args: ['limit'] },
  'too-many-elements': { messageId: 'tooManyElements', args: ['limit'] },
  'too-many-points': { messageId: 'tooManyPoints', args: ['limit'] },
  'circular-use': { messageId: 'circularUse', args: ['href'] },
  'missing-reference': { messageId: 'missingReference', args: ['href'], severity: 'warning' },
  'bad-path': { messageId: 'badPath', args: ['text', 'at'] },
  'bad-value': { messageId: 'badValue', args: ['attribute', 'text'], severity: 'warning' },
  'bad-transform': { messageId: 'badTransform', args: ['text'] },
  'number-out-of-range': { messageId: 'artworkNumber', args: ['attribute', 'text'] },
  'zero-size': { messageId: 'zeroSize', args: [] },
  'bad-style': { messageId: 'badStyle', args: ['text'], severity: 'warning' },
};

export default defineRule({
  id: 'input/syntax',
  summary: 'A file of the job is not written as its format asks.',
  severity: 'error',
  since: '0.1.0',
  reads: ['sidecar', 'toolpath', 'artwork', 'machine', 'material'],
  messages: {
    file: '{text}',
    manyMore: 'Not listed here: {problems} in {file}. Put right the ones that are listed, and check again.',
    word: '{text} cannot be taken{more}: {reason}. Write one letter and one decimal number, such as X10.5.',
    lineTooLong:
      'A line of {length} characters is longer than the {limit} that are read{more}. Check that the file is a G-code program and break the line.',
    binary:
      'The file holds the control byte {byte}{more} and is no text program. Give the G-code that goes to the controller, not a project or archive file.',
    emptyToolpath: 'The toolpath holds no motion at all. Export it again, and check that something was selected.',
    arcNoCentre: 'An arc has neither centre (I J K) nor radius (R){more}. Write the centre, or straight moves.',
    arcRadius:
      'An arc of radius {radiusMm} mm cannot span its ends, {chordMm} mm apart{more}. Correct R, or write the centre.',
    negativePower: 'The power setting {value} is negative{more}. Write 0 for off and a number above 0 for on.',
    noBeam:
      'A power of {value} is set while neither M3 nor M4 is in force{more}: on most controllers the beam stays off. Switch on by M3 or M4 first.',
    toolpathNumber: 'The number {text} is beyond {limit}{more} and was not used. Correct it.',
    checksum: 'The checksum of {text} is wrong{more}: the file was damaged or changed by hand. Export it again.',
    afterEnd: 'Motion stands behind M2 or M30 and will not run (lines: {lines}). Take out the early end, or the rest.',
    notXml: 'The file is not well-formed XML: {reason}{more}. Export it again as plain SVG.',
    notSvg: 'The file’s root element is {root} and not svg. Export the artwork as SVG.',
    emptyArtwork: 'The artwork file is empty. Export it again.',
    compressed: 'The artwork is compressed (svgz), which is refused. Save it as plain SVG.',
    entity:
      'The document declares or uses the entity {name}{more}; entities are not expanded here. Export as plain SVG without a document type.',
    tooDeep: 'Elements are nested deeper than {limit} levels; what lies deeper was not read. Flatten the groups.',
    tooManyElements:
      'More than {limit} elements come out of the file’s references; the rest was not drawn. Expand symbols and copies only where they are needed.',
    tooManyPoints:
      'The outlines have more than {limit} points; the rest was not read. Simplify the paths, or split the job.',
    circularUse: 'The reference to {href} leads back to itself{more}. Take out the loop.',
    missingReference:
      'The reference to {href} leads nowhere{more}, so nothing is drawn for it. Restore what it names, or take it out.',
    badPath:
      'Path data is malformed at character {at}, near {text}{more}; as SVG asks, the path is drawn up to there and no further. Correct the path.',
    badValue: 'The value {text} of {attribute} cannot be read{more} and is ignored. Correct it.',
    badTransform:
      'The transform {text} cannot be read{more} and is ignored, so what it moves lies in the wrong place. Correct it.',
    artworkNumber: 'The number {text} of {attribute} is beyond what is drawn{more}. Correct it.',
    zeroSize: 'The drawing area has no size (width, height or viewBox of 0), so nothing is drawn. Give it a size.',
    badStyle: 'The style {text} cannot be read{more} and is ignored: strokes may be selected wrongly. Correct it.',
    place: 'the same here',
  },
  example: 'the key "lense" is not known: did you mean lens?',
  options: {
    'list-at-most': {
      type: 'number',
      default: 10,
      minimum: 1,
      description: 'Problems of one settings file that are listed one by one.',
    },
  },
  why: 'Programs that read such a file each make something else of it, and so does the machine. What was left out is named, since a check that guesses would look like a check that understood. What leaves motion, beam and outlines as they are meant is a warning, and problems of settings files are as severe as their loader says.',
  remedy: 'Put right what is named, at the place that is named, or export the file again.',
  sources: [
    'Toolpaths: RS274/NGC (NISTIR 6556, 2000), ISO 6983-1:2009',
    'Artwork: XML 1.0; SVG 2, its rule for errors in path data included',
    'Sidecar, machine and material: the schemas in `schemas/`',
  ],
  check(facts, options) {
    return [
      ...filesWritten(facts, options['list-at-most']),
      ...readings(TOOLPATH, toolpathProblems(facts), (problem) => inToolpath(facts, problem.place)),
      ...readings(ARTWORK, artworkProblems(facts), (problem) => inArtwork(facts, problem.place)),
    ];
  },
});

/** Problems of sidecar, machine and material, each with the sentence that its loader wrote. */
function filesWritten(facts: JobFacts, limit: number): ReportDescriptor[] {
  const materialPlace = facts.material === null && facts.materialName !== null ? inSidecar(facts, ['material']) : null;
  const judgedElsewhere = (problem: Problem) =>
    problem.code === 'unknown-id' && materialPlace?.line === problem.place.line;
  const listed = facts.inputProblems.filter((one) => !one.unreadable && !judgedElsewhere(one.problem));
  const found: ReportDescriptor[] = [];
  for (const file of new Set(listed.map((one) => one.file))) {
    const own = listed.filter((one) => one.file === file);
    for (const { problem, severity } of own.slice(0, limit)) {
      const args = { text: String(problem.args['text'] ?? problem.code) };
      const location = { ...problem.place, file: 'file' in problem.place ? String(problem.place.file) : file };
      found.push({ messageId: 'file', severity, args, location });
    }
    const shown = Math.min(own.length, limit);
    // The loader keeps a number of problems and counts the rest on the last of them.
    const unlisted = own.reduce((sum, { problem }) => sum + 1 + (problem.more ?? 0), 0) - shown;
    const { problem, severity } = own[shown] ?? own[shown - 1]!;
    if (unlisted > 0) {
      const args = { problems: formatCount(unlisted, 'more problem'), file };
      found.push({ messageId: 'manyMore', severity, args, location: { ...problem.place, file } });
    }
  }
  return found;
}

function readings(
  table: Record<string, Reading>,
  problems: readonly Problem[],
  locate: (problem: Problem) => Location,
): ReportDescriptor[] {
  return Object.entries(table).flatMap(([code, reading]) => {
    const group = groupOf(problems, code);
    if (group === null) return [];
    const severity: Severity = reading.severity ?? 'error';
    return [
      {
        messageId: reading.messageId,
        severity,
        args: argumentsOf(reading, group),
        location: locate(group.first),
        related: relatedPlaces(group.others.map(locate), 'place'),
        subject: code,
      },
    ];
  });
}
