// Every registered format says the same of the same result: the run's headline, the verdict, and the caution that closes it. What a format
// may hold them in is written down here; a format that is added has to say it.
import { describe, expect, it } from 'vitest';
import { CAUTION } from '../../src/findings/caution.ts';
import type { RunResult } from '../../src/findings/result.ts';
import { FORMAT_NAMES, FORMATS, type FormatName } from '../../src/report/formats.ts';
import { reportText } from '../../src/report/report-context.ts';
import { finding, job, run } from '../findings/results.ts';
import { wordsOfHtml, wordsOfMarkdown } from '../markdown-reader.ts';
import { context } from './context.ts';
import { readXml } from './xml-reader.ts';

const CUT = { ...job().cuts[0]!, throughProbability: 0.94 };
const RESULTS: Record<string, RunResult> = {
  pass: run([job({ cuts: [CUT, CUT] })]),
  fail: run([job({ findings: [finding({ message: 'The beam stays on at 70 % <of 60 W> & burns. End with M5.' })] })]),
  incomplete: run([job({ incomplete: ['the material is not stated: name it in the sidecar or with --material'] })]),
  empty: run([]),
  several: run([job({ cuts: [CUT] }), job({ name: 'tray', findings: [finding()] })]),
};

/** The words of a format as a person or program reads them, by what carries them. */
const READ: Record<FormatName, (report: string) => string> = {
  text: flat,
  json: (report) => {
    const { headline, caution } = JSON.parse(report);
    return `${headline} ${caution}`;
  },
  drawing: (report) => {
    const { headline, caution } = JSON.parse(report);
    return `${headline} ${caution}`;
  },
  annotations: flat,
  sarif: (report) => {
    const { headline, caution } = JSON.parse(report).runs[0].properties;
    return `${headline} ${caution}`;
  },
  summary: (report) => flat(wordsOfMarkdown(report)),
  html: (report) => flat(wordsOfHtml(report.replace(/^[\s\S]*<body>/, ''))),
  junit: (report) => {
    const said = readXml(report).children.at(-1)!.children[0]!.children;
    return flat(said.map(({ attributes }) => attributes['value']).join(' '));
  },
  checkstyle: (report) => {
    const comments: string[] = [];
    readXml(report, comments);
    // Two hyphens stand in no comment: the second is another character.
    const said = comments.join(' ').replaceAll('\u2011', '-').replaceAll('&lt;', '<').replaceAll('&gt;', '>');
    return flat(said.replaceAll('&#39;', "'").replaceAll('&amp;', '&'));
  },
  codequality: (report) =>
    flat(
      (JSON.parse(report) as { description: string; content: { body: string } }[])
        .map(({ description, content }) => `${description} ${content.body}`)
        .join(' '),
    ),
  oneline: flat,
  csv: (report) => flat(report.replaceAll('""', '"')),
};

function flat(text: string): string {
  return text.replace(/\s+/g, ' ').trim();
}

describe.each(Object.entries(RESULTS))('a result that is %s', (_, result) => {
  it.each(FORMAT_NAMES)('is told in the same words by %s', async (name) => {
    const report = reportText(await FORMATS[name].load(), result, context());
    const words = READ[name](report);
    // A list of issues has no place beside them: an empty one says nothing, and a passing run no headline.
    if (name === 'codequality') {
      expect(words.includes(flat(CAUTION))).toBe(JSON.parse(report).length > 0);
      return;
    }
    expect(words).toContain(flat(CAUTION));
    // A table has a row a job, and so the headlines of the jobs.
    const headlines =
      name === 'csv' && result.jobs.length > 0 ? result.jobs.map((one) => one.headline) : [result.headline];
    for (const headline of headlines) expect(words).toContain(flat(headline));
  });

  it.each(['text', 'annotations', 'summary', 'html', 'oneline'] as const)(
    'is closed by the caution in %s',
    async (name) => {
      const report = reportText(await FORMATS[name].load(), result, context());
      expect(READ[name](report).endsWith(flat(CAUTION))).toBe(true);
    },
  );
});
