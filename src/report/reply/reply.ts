import type { JobPictures } from '../../facts/drawing/drawing-model.ts';
import type { ReplySettings } from '../../facts/types.ts';
import type { JobResult, RunEnd } from '../../findings/result.ts';
import { csvCell } from '../escape.ts';
import { FileNames } from './file-names.ts';
import { LANGUAGES } from './languages/index.ts';
import type { Language } from './languages/language.ts';
import { type Letter, letterFor } from './letter.ts';
import { letterAsMarkdown, letterAsText } from './letter-text.ts';
import { placePicture } from './place-picture.ts';

/** A file of the answer, by its name in the folder. */
export interface ReplyFile {
  readonly name: string;
  readonly text: string;
}

const COLUMNS = [
  'job',
  'what came of it',
  'has to change',
  'noticed',
  'questions',
  'letter',
  'picture',
  'files',
  'why not read',
  'what to ask for',
  'verdict for the shop',
] as const;

type Row = Partial<Record<(typeof COLUMNS)[number], string | number>>;

/** An answer in the making: it is given each job once, in the order of the run, and last what is told of the run as a whole. */
export interface ReplyWriter {
  job(result: JobResult, pictures: JobPictures | null): ReplyFile[];
  end(run: Pick<RunEnd, 'leftOut' | 'passedBy'>): ReplyFile[];
}

/**
 * An answer to whoever sent the jobs: for each job a letter as Markdown and as plain text, with a picture of the places where it has
 * some, and `index.csv` for the shop, which says what came of each job and lists the files that were not read. Pure: the same input gives
 * the same bytes.
 */
export function openReply(settings: ReplySettings): ReplyWriter {
  const language = LANGUAGES[settings.language];
  const names = new FileNames();
  const rows: Row[] = [];
  return {
    job(job, pictures) {
      const name = names.next(job.name);
      const drawing = pictures?.drawing ?? null;
      const letter = letterFor(job, drawing, language);
      const svg = placePicture(drawing, [...letter.mustChange, ...letter.noticed], name);
      const picture = svg === null ? null : `${name}-places.svg`;
      const writing = { language, templates: settings.templates, picture };
      rows.push({ ...rowOf(job, letter, { letter: `${name}.md`, picture }), ...notReadOf(job, letter, language) });
      return [
        { name: `${name}.md`, text: letterAsMarkdown(letter, writing) },
        { name: `${name}.txt`, text: letterAsText(letter, writing) },
        ...(svg === null ? [] : [{ name: `${name}-places.svg`, text: svg }]),
      ];
    },
    end: (run) => [{ name: 'index.csv', text: indexText([...rows, ...notRead(run, language)]) }],
  };
}

function rowOf(job: JobResult, letter: Letter, made: { letter: string; picture: string | null }): Row {
  return {
    job: job.name,
    'what came of it': letter.outcome,
    'has to change': letter.mustChange.length,
    noticed: letter.noticed.length,
    questions: letter.questions.length,
    letter: made.letter,
    ...(made.picture === null ? {} : { picture: made.picture }),
    files: letter.files.join('; '),
    'verdict for the shop': job.headline,
  };
}

/** Of a job with a file that was not read to any use: which, and what to ask for in its place. */
function notReadOf({ files, artwork, toolpath, headline }: JobResult, letter: Letter, { askFor }: Language): Row {
  const kinds = [
    ...(files.artwork !== undefined && !artwork?.boundsMm ? (['artwork'] as const) : []),
    ...(files.toolpath !== undefined && toolpath === undefined ? (['toolpath'] as const) : []),
  ];
  // What is the shop's to settle keeps a program from being followed too: then there is nothing to ask for.
  if (kinds.length === 0 || letter.outcome === 'ours') return {};
  return {
    'why not read': headline,
    'what to ask for': [...new Set([...letter.questions, ...kinds.map((kind) => askFor[kind])])].join(' '),
  };
}

function notRead({ leftOut, passedBy }: Pick<RunEnd, 'leftOut' | 'passedBy'>, { askFor }: Language): Row[] {
  const others = passedBy.otherFiles;
  return [
    ...leftOut.map(({ path, kind, reason }) => ({
      'what came of it': 'not read',
      files: path,
      'why not read': reason,
      'what to ask for': askFor[kind],
    })),
    ...(others === 0
      ? []
      : [
          {
            'what came of it': 'not read',
            files: `${others} of other kinds`,
            'why not read': 'No toolpath and no artwork by their names.',
            'what to ask for': askFor.other,
          },
        ]),
  ];
}

/** RFC 4180. */
function indexText(rows: readonly Row[]): string {
  const cells = [[...COLUMNS], ...rows.map((row) => COLUMNS.map((column) => row[column] ?? null))];
  return cells.map((row) => `${row.map(csvCell).join(',')}\r\n`).join('');
}
