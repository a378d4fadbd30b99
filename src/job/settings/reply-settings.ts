import * as v from 'valibot';
import { quoted } from '../../units/quoted.ts';
import { strict } from '../yaml/shape.ts';

/** Languages in which those who sent a job are answered. */
export const REPLY_LANGUAGES = ['en', 'de'] as const;
export type ReplyLanguage = (typeof REPLY_LANGUAGES)[number];

/**
 * The sentences of an answer that a shop can word itself, each with the fields that it may name as `{field}`. What was sent is `files`,
 * the name of the job `job`.
 */
export const REPLY_FIELDS = {
  subject: ['job'],
  greeting: [],
  opening: ['job', 'files'],
  change: ['job'],
  question: ['job'],
  ours: ['job'],
  ready: ['job'],
  limits: [],
  closing: [],
} as const satisfies Record<string, readonly string[]>;

export type ReplyTemplate = keyof typeof REPLY_FIELDS;

const TEMPLATES = Object.keys(REPLY_FIELDS) as readonly ReplyTemplate[];
const MOST_LETTERS = 2000;

/** How a shop answers. */
export interface ReplySettings {
  readonly language: ReplyLanguage;
  /** Only those that the shop has words of its own for. */
  readonly templates: Partial<Record<ReplyTemplate, string>>;
}

/** What holds where a shop says nothing of it. */
export const NO_REPLY_SETTINGS: ReplySettings = { language: 'en', templates: {} };

const template = v.optional(
  v.pipe(
    v.string('write a sentence'),
    v.maxLength(MOST_LETTERS, `longer than ${MOST_LETTERS} characters`),
    v.examples(['Best wishes from the tool library']),
  ),
);

/** `reply` of `.kerflint.yaml`. */
export const replySchema = strict({
  language: v.optional(v.picklist(REPLY_LANGUAGES, `write ${REPLY_LANGUAGES.join(' or ')}`)),
  templates: v.optional(strict(Object.fromEntries(TEMPLATES.map((name) => [name, template])))),
});

type Said = v.InferOutput<typeof replySchema>;

export function replySettings(said: Said | undefined): ReplySettings {
  if (said === undefined) return NO_REPLY_SETTINGS;
  const worded = Object.entries(said.templates ?? {}).filter((one): one is [string, string] => one[1] !== undefined);
  return { language: said.language ?? NO_REPLY_SETTINGS.language, templates: Object.fromEntries(worded) };
}

const FIELD = /\{\{|\}\}|\{([^{}]*)\}|[{}]/g;

/** Fields that a template names and does not have, and braces that stand alone. */
export function replyProblems(said: Said | undefined): { path: string[]; text: string }[] {
  return Object.entries(replySettings(said).templates).flatMap(([name, text]) => {
    const fields: readonly string[] = REPLY_FIELDS[name as ReplyTemplate];
    const has = fields.length === 0 ? 'it has none' : `it has ${fields.map((field) => `{${field}}`).join(', ')}`;
    return [...text.matchAll(FIELD)].flatMap(([found, field]) => {
      if (found === '{{' || found === '}}' || (field !== undefined && fields.includes(field))) return [];
      const what =
        field === undefined
          ? 'a brace that is to stay is written twice, {{ or }}'
          : `${quoted(field)} is no field of this text: ${has}`;
      return [{ path: ['templates', name], text: what }];
    });
  });
}
