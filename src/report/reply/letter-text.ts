import type { ReplySettings, ReplyTemplate } from '../../facts/types.ts';
import { renderMessage } from '../../findings/message.ts';
import { escapeMarkdown, escapeTerminal } from '../escape.ts';
import type { Language } from './languages/language.ts';
import { type Letter, nameOf, type Said, type Told } from './letter.ts';

/** How a letter is written down. */
interface Script {
  /** Text from a file or a setting, so that it is nothing but text. */
  readonly asText: (text: string) => string;
  readonly heading: (text: string, level: 1 | 2) => string;
  readonly picture: (file: string) => string;
}

const MARKDOWN: Script = {
  asText: escapeMarkdown,
  heading: (text, level) => `${'#'.repeat(level)} ${text}`,
  picture: (file) => `![${file}](${file})`,
};

const PLAIN: Script = {
  asText: escapeTerminal,
  heading: (text) => `${text}\n${'-'.repeat([...text].length)}`,
  picture: (file) => `(${file})`,
};

/** What a letter is written with. */
export interface Writing {
  readonly language: Language;
  readonly templates: ReplySettings['templates'];
  /** File name of the picture beside the letter; null where there is none. */
  readonly picture: string | null;
}

export const letterAsMarkdown = (letter: Letter, writing: Writing): string => written(letter, writing, MARKDOWN);

export const letterAsText = (letter: Letter, writing: Writing): string => written(letter, writing, PLAIN);

function written(letter: Letter, writing: Writing, script: Script): string {
  const { language, templates, picture } = writing;
  const { headings } = language;
  const fill = (said: Said) => filled(said, language, script);
  const fields = { job: nameOf(letter.job), files: letter.files.map(nameOf).join(', ') };
  const own = (name: ReplyTemplate) => fill({ template: templates[name] ?? language.templates[name], values: fields });
  const part = (heading: keyof Language['headings'], lines: readonly string[]) =>
    lines.length === 0 ? [] : [script.heading(headings[heading], 2), lines.join('\n')];
  const items = (lines: readonly string[]) => lines.map((line) => `- ${line}`);
  const tell = (told: Told) => toldText(told, writing, fill);
  const blocks = [
    script.heading(own('subject'), 1),
    own('greeting'),
    `${own('opening')} ${own(letter.outcome)}`,
    ...part('mustChange', letter.mustChange.map(tell)),
    ...part('proposals', items(letter.proposals.map(fill))),
    ...part('questions', items(letter.questions)),
    ...part('noticed', letter.noticed.map(tell)),
    ...(picture === null ? [] : [script.picture(picture)]),
    ...part('received', items(letter.received.map(fill))),
    ...part('checked', items(letter.checked)),
    own('limits'),
    own('closing'),
  ];
  return `${blocks.filter((block) => block.trim() !== '').join('\n\n')}\n`;
}

function toldText(told: Told, { language, picture }: Writing, fill: (said: Said) => string): string {
  const { place } = language;
  const places = [
    fill(told.where),
    told.elsewhere ? place.more : '',
    told.at !== null && picture !== null
      ? fill({ template: place.mark, values: { number: told.number, picture } })
      : '',
  ].filter((text) => text !== '');
  return `${told.number}. ${fill(told.what)}${places.length === 0 ? '' : ` (${places.join(', ')})`}`;
}

const NUMBER = /^-?\d+(\.\d+)?$/;

function filled({ template, values }: Said, { decimal }: Language, { asText }: Script): string {
  const shown = Object.entries(values).map(([name, value]): [string, string] => {
    const text = String(value);
    return [
      name,
      NUMBER.test(text) ? text.replace('.', decimal) : asText(text.replace(/(\d)\.(\d+ mm)/g, `$1${decimal}$2`)),
    ];
  });
  return renderMessage(template, Object.fromEntries(shown));
}
