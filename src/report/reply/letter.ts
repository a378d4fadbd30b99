import type { JobDrawing } from '../../facts/drawing/drawing-model.ts';
import type { Finding } from '../../findings/finding.ts';
import type { JobResult } from '../../findings/result.ts';
import { worstFirst } from '../../findings/sorting.ts';
import { openFindings } from '../result-texts.ts';
import type { Language, Question } from './languages/language.ts';
import { QUESTIONS } from './languages/language.ts';

/**
 * What comes of a job for whoever sent it. `change`: something has to be changed before it can be cut; `question`: an answer is missing;
 * `ours`: what is open is for the shop to settle; `ready`: nothing was found that they would have to change.
 */
export type Outcome = 'change' | 'question' | 'ours' | 'ready';

/** A sentence of the letter, with the values that it names. */
export interface Said {
  readonly template: string;
  readonly values: Readonly<Record<string, string | number>>;
}

/** Something that whoever sent the job can put right. */
export interface Told {
  /** Counted through the letter, and on its picture. */
  readonly number: number;
  readonly what: Said;
  readonly where: Said;
  /** The same stands in other places of the file too. */
  readonly elsewhere: boolean;
  /** Where it lies in the drawing, mm; null where it has no place there. */
  readonly at: { readonly x: number; readonly y: number } | null;
}

/** The answer to whoever sent a job: everything that is said, before it is text. It names no machine, price or finding that is the shop's own. */
export interface Letter {
  readonly job: string;
  readonly outcome: Outcome;
  readonly files: readonly string[];
  readonly received: readonly Said[];
  readonly checked: readonly string[];
  readonly mustChange: readonly Told[];
  readonly noticed: readonly Told[];
  readonly proposals: readonly Said[];
  readonly questions: readonly string[];
}

const plain = (template: string, values: Said['values'] = {}): Said => ({ template, values });

/** The letter for a job. Of its findings only those are told that the language has words for and that are marked for customers. */
export function letterFor(job: JobResult, drawing: JobDrawing | null, language: Language): Letter {
  const all = worstFirst(openFindings(job)).filter(
    (finding) => finding.severity !== 'note' && wordsFor(finding, language) !== null,
  );
  const told = all.filter((finding, i) => all.findIndex((other) => saysTheSame(finding, other, language)) === i);
  const tooThick = told.some(({ rule }) => rule === 'cut/out-of-reach') ? [] : beyondEverySetting(job, language);
  const numbered = [
    ...tooThick,
    ...told.map((finding, i) => {
      const again = all.some((other) => other !== finding && saysTheSame(other, finding, language));
      return tellOf(finding, again, tooThick.length + i + 1, drawing, language);
    }),
  ];
  const errors = tooThick.length + told.filter(({ severity }) => severity === 'error').length;
  const questions = questionsOf(job, told).map((fact) => language.questions[fact]);
  return {
    job: job.name,
    outcome: outcomeOf(job, errors, questions.length),
    files: [job.files.artwork, job.files.toolpath].filter((file) => file !== undefined),
    received: receivedOf(job, language),
    checked: checkedOf(job, language),
    mustChange: numbered.slice(0, errors),
    noticed: numbered.slice(errors),
    proposals: proposalsFor(job, told, tooThick.length > 0, language),
    questions,
  };
}

function outcomeOf({ verdict }: JobResult, errors: number, questions: number): Outcome {
  if (errors > 0) return 'change';
  if (questions > 0) return 'question';
  return verdict === 'pass' ? 'ready' : 'ours';
}

/** Null where it is none of theirs, or of a version that has no words for it. */
function wordsFor({ rule, messageId, values }: Finding, { problems }: Language): string | null {
  if (values === undefined || !Object.hasOwn(problems, rule)) return null;
  const messages = problems[rule] ?? {};
  if (typeof messages === 'string') return messages;
  return Object.hasOwn(messages, messageId) ? (messages[messageId] ?? null) : null;
}

/** Whether two findings read alike but for their lines: of a rule that has one sentence for all that it finds in a file. */
function saysTheSame(a: Finding, b: Finding, { problems }: Language): boolean {
  if (a === b) return true;
  return a.rule === b.rule && a.location.file === b.location.file && typeof problems[a.rule] === 'string';
}

function tellOf(
  finding: Finding,
  again: boolean,
  number: number,
  drawing: JobDrawing | null,
  language: Language,
): Told {
  const { file, line } = finding.location;
  const pin = drawing?.pins.find(({ fingerprint }) => fingerprint === finding.fingerprint) ?? null;
  return {
    number,
    what: plain(wordsFor(finding, language) ?? '', finding.values),
    // A sidecar may be the shop's own: the line in it says nothing to others.
    where: isSent(file) ? plain(language.place.line, { file: nameOf(file), line: String(line) }) : plain(''),
    elsewhere: again || finding.related.some((one) => one.file === file && one.line !== line),
    at: pin && { x: pin.x, y: pin.y },
  };
}

/** Remedies of a cut that no setting of the machine brings through. */
const BEYOND = new Set<unknown>(['stack', 'none']);

/** Planned settings are the shop's own. That none would do is not: then the sheet is too thick, and only they can choose another. */
function beyondEverySetting(job: JobResult, { problems }: Language): Told[] {
  const short = openFindings(job).some(({ rule, severity }) => rule === 'cut/short-of-through' && severity === 'error');
  const beyond = job.cuts.some(({ remedies: [first] }) => first !== undefined && BEYOND.has(first['kind']));
  const words = problems['cut/out-of-reach'];
  const template = typeof words === 'string' ? words : words?.['outOfReach'];
  if (!short || !beyond || template === undefined) return [];
  return [{ number: 1, what: plain(template), where: plain(''), elsewhere: false, at: null }];
}

const isSent = (file: string): boolean => !/\.ya?ml$/i.test(file);

/** Without the shop's folders. */
export const nameOf = (file: string): string => file.slice(file.lastIndexOf('/') + 1);

function receivedOf({ files, artwork, toolpath, material, thicknessMm }: JobResult, { received }: Language): Said[] {
  const said: Said[] = [];
  if (files.artwork !== undefined) {
    const file = nameOf(files.artwork);
    const box = artwork?.boundsMm ?? null;
    said.push(
      box === null
        ? plain(received.artworkUnread, { file })
        : plain(received.artwork, { file, width: tenths(box.maxX - box.minX), height: tenths(box.maxY - box.minY) }),
    );
  }
  if (files.toolpath !== undefined) {
    const file = nameOf(files.toolpath);
    said.push(
      toolpath === undefined
        ? plain(received.toolpathUnread, { file })
        : plain(received.toolpath, { file, length: Math.round(toolpath.cutLengthMm) }),
    );
  }
  if (material !== null || thicknessMm !== null) {
    const thickness = thicknessMm === null ? '?' : `${tenths(thicknessMm)} mm`;
    said.push(plain(received.sheet, { material: material?.replaceAll('-', ' ') ?? '?', thickness }));
  }
  return said;
}

const tenths = (mm: number): number => Math.round(mm * 10) / 10;

function checkedOf({ artwork, toolpath, cuts, material, unanswered }: JobResult, { checked }: Language): string[] {
  const answered = cuts.filter(({ aim }) => aim === 'through');
  const open = (unanswered ?? []).some(({ fact }) => fact === 'material');
  return [
    ...(artwork?.boundsMm ? [checked.artwork] : []),
    ...(toolpath ? [checked.toolpath] : []),
    ...(artwork?.boundsMm && toolpath ? [checked.match] : []),
    ...(material !== null && !open ? [checked.material] : []),
    ...(answered.some(({ throughProbability, reach }) => throughProbability !== null || reach !== undefined)
      ? [checked.through]
      : []),
  ];
}

/** What nobody could answer and only they can, each once; what is told as a finding already is not asked again. */
function questionsOf({ unanswered }: JobResult, told: readonly Finding[]): Question[] {
  const facts = new Set((unanswered ?? []).map(({ fact }) => fact));
  const asked = new Set(told.map(({ rule }) => ASKED_BY[rule]));
  return QUESTIONS.filter((fact) => facts.has(fact) && !asked.has(fact));
}

/** Findings that ask for the same as a question does. */
const ASKED_BY: Readonly<Record<string, Question>> = {
  'input/unreadable': 'file',
  'toolpath/not-analysed': 'toolpath',
  'artwork/unassigned-stroke': 'task',
};

const OTHER_MATERIAL = new Set(['material/hazardous', 'material/transparent-to-source', 'material/not-cut-by-source']);

function proposalsFor(
  { cuts }: JobResult,
  told: readonly Finding[],
  tooThick: boolean,
  { proposals }: Language,
): Said[] {
  if (told.some(({ rule, severity }) => severity === 'error' && OTHER_MATERIAL.has(rule)))
    return [plain(proposals.material)];
  if (!tooThick && !told.some(({ rule }) => rule === 'cut/out-of-reach')) return [];
  const said = cuts.flatMap(({ reach, remedies }): Said[] => {
    const { stacked = stackOf(remedies[0]), thickestMm = null } = reach?.thinner ?? {};
    return [
      ...(stacked === null ? [] : [plain(proposals.stacked, { layers: stacked.layers, thickness: stacked.layerMm })]),
      ...(thickestMm === null ? [] : [plain(proposals.thinner, { thickness: thickestMm })]),
    ];
  });
  const each = new Map(said.map((one) => [JSON.stringify(one), one]));
  return each.size === 0 ? [plain(proposals.material)] : [...each.values()];
}

/** The stack that a remedy names. */
function stackOf(remedy: Record<string, unknown> | undefined): { layers: number; layerMm: number } | null {
  const { kind, layers, layerThicknessMm } = remedy ?? {};
  if (kind !== 'stack' || typeof layers !== 'number' || typeof layerThicknessMm !== 'number') return null;
  return { layers, layerMm: layerThicknessMm };
}
