import type { JobFacts } from '../../facts/facts.ts';
import type { Location, Problem } from '../../facts/types.ts';
import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { ARTWORK_PROBLEMS, TOOLPATH_PROBLEMS } from '../../model/problem-codes.ts';
import type { Reader } from '../../model/reader.ts';
import { groupOf, inArtwork, inSidecar, inToolpath, relatedPlaces } from '../places.ts';
import { argumentsOf } from '../reading.ts';
import { defineRule } from '../rule.ts';
import { formatCount } from '../wording.ts';

/** Kinds of files as the page's sources name them. */
const KIND: Record<Reader['makes'], string> = { toolpath: 'Toolpaths', artwork: 'Artwork' };

/** The rule, speaking for these readers: each brings the messages for problems in codes of its own. */
export default (readers: readonly Reader[]) =>
  defineRule({
    id: 'input/syntax',
    summary: 'A file of the job is not written as its format asks.',
    severity: 'error',
    since: '0.1.0',
    reads: ['sidecar', 'toolpath', 'artwork', 'machine', 'material'],
    messages: {
      file: '{text}',
      manyMore: 'Not listed here: {problems} in {file}. Put right the ones that are listed, and check again.',
      ...messagesOf(readers),
      place: 'the same here',
    },
    // Sidecar and profiles are the shop's own.
    forCustomers: Object.fromEntries(Object.keys(messagesOf(readers)).map((messageId) => [messageId, []])),
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
      ...readers.map(({ makes, standard }) => `${KIND[makes]}: ${standard}`),
      'Sidecar, machine and material: the schemas in `schemas/`',
    ],
    check(facts, options) {
      const { toolpath, artwork } = facts;
      return [
        ...filesWritten(facts, options['list-at-most']),
        ...(toolpath === null
          ? []
          : problemsRead(readers, toolpath, TOOLPATH_PROBLEMS, ({ place }) => inToolpath(facts, place))),
        ...(artwork === null
          ? []
          : problemsRead(readers, artwork, ARTWORK_PROBLEMS, ({ place }) => inArtwork(facts, place))),
      ];
    },
  });

/** @throws Error when two readers use one id */
function messagesOf(readers: readonly Reader[]): Record<string, string> {
  const messages: Record<string, string> = {};
  for (const { id, problems } of readers) {
    for (const { messageId, message } of Object.values(problems)) {
      if (Object.hasOwn(messages, messageId))
        throw new Error(`the reader ${id} uses the message id "${messageId}" again`);
      messages[messageId] = message;
    }
  }
  return messages;
}

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

/**
 * Findings of problems in the reader's own codes; `judgedElsewhere` are those that rules of their own judge.
 * @throws Error for a code that the reader does not state: the rule has then failed, and what was met is not passed over
 */
function problemsRead(
  readers: readonly Reader[],
  { reader: id, problems }: { reader: string; problems: readonly Problem[] },
  judgedElsewhere: readonly string[],
  locate: (problem: Problem) => Location,
): ReportDescriptor[] {
  const known: Reader['problems'] = readers.find((reader) => reader.id === id)?.problems ?? {};
  const unknown = problems.find(({ code }) => !judgedElsewhere.includes(code) && !Object.hasOwn(known, code));
  if (unknown !== undefined) throw new Error(`the reader ${id} reports "${unknown.code}", which it does not state`);
  return Object.entries(known).flatMap(([code, { messageId, message, severity }]): ReportDescriptor[] => {
    const group = groupOf(problems, code);
    if (group === null) return [];
    return [
      {
        messageId,
        severity: severity ?? 'error',
        args: argumentsOf(message, group),
        location: locate(group.first),
        related: relatedPlaces(group.others.map(locate), 'place'),
        subject: code,
      },
    ];
  });
}
