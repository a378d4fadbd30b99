import type { Format } from './report-context.ts';
import { ofWorstJobs } from './worst-jobs.ts';

interface FormatEntry {
  readonly summary: string;
  /** It draws, and is given the drawings of the run and the script of the page. */
  readonly draws?: true;
  /** Of a run that is held against another it shows that one's pictures too. */
  readonly showsBase?: true;
  /** Loaded when asked for, so that a check loads no format but its own. */
  load(): Promise<Format>;
}

/** All formats by name, in the order in which help lists them. */
export const FORMATS = {
  text: { summary: 'for people', load: async () => ofWorstJobs((await import('./text/text.ts')).text) },
  json: { summary: 'for programs, with a schema', load: async () => (await import('./data/json.ts')).json },
  annotations: {
    summary: 'workflow commands that mark lines in a pull request',
    load: async () => (await import('./ci/annotations.ts')).annotations,
  },
  sarif: { summary: 'SARIF 2.1.0, for code scanning', load: async () => (await import('./ci/sarif.ts')).sarif },
  summary: {
    summary: 'Markdown, for a job summary',
    load: async () => ofWorstJobs((await import('./ci/summary.ts')).summary),
  },
  html: {
    summary: 'one page with pictures, for people who look before they read',
    draws: true,
    showsBase: true,
    load: async () => {
      const { html, JOBS_DRAWN } = await import('./html/html.ts');
      return ofWorstJobs(html, JOBS_DRAWN);
    },
  },
  drawing: {
    summary: 'JSON that the pictures are drawn from, with a schema: join makes them from it',
    draws: true,
    load: async () => (await import('./data/drawing.ts')).drawing,
  },
  junit: {
    summary: 'XML with a suite a job and a test a rule, for servers that show test results',
    load: async () => (await import('./ci/junit.ts')).junit,
  },
  codequality: {
    summary: 'JSON that a merge request shows as code quality',
    load: async () => (await import('./ci/codequality.ts')).codequality,
  },
  checkstyle: {
    summary: 'XML by file, for servers and editors that read the reports of style checkers',
    load: async () => (await import('./ci/checkstyle.ts')).checkstyle,
  },
  oneline: {
    summary: 'file:line:column, one finding a line, for editors',
    load: async () => (await import('./text/oneline.ts')).oneline,
  },
  csv: { summary: 'one row a job, for a spreadsheet', load: async () => (await import('./data/csv.ts')).csv },
} as const satisfies Record<string, FormatEntry>;

export type FormatName = keyof typeof FORMATS;

export const FORMAT_NAMES = Object.keys(FORMATS) as readonly FormatName[];

export function drawsPictures(name: FormatName): boolean {
  return 'draws' in FORMATS[name];
}

export function showsBase(name: FormatName): boolean {
  return 'showsBase' in FORMATS[name];
}

/** What `--format reply=<folder>` makes: files and no one text, so it stands beside the formats. */
export const REPLY = {
  name: 'reply',
  summary: 'a folder with an answer to whoever sent each job: --format reply=<new folder>',
  load: async () => (await import('./reply/reply.ts')).openReply,
} as const;
