import type { ReplyTemplate } from '../../../facts/types.ts';

/**
 * Everything that an answer to a customer says, in one language: a new language is one file of this type. Sentences name their
 * values as `{value}`; those that a shop can word itself are in `templates`.
 */
export interface Language {
  /** As browsers and mail programs name it. */
  readonly code: string;
  /** Between whole numbers and decimals. */
  readonly decimal: '.' | ',';
  readonly templates: Readonly<Record<ReplyTemplate, string>>;
  readonly headings: Readonly<
    Record<'received' | 'checked' | 'mustChange' | 'noticed' | 'proposals' | 'questions', string>
  >;
  /** What was received: each line with what is known of it. */
  readonly received: Readonly<Record<'artwork' | 'artworkUnread' | 'toolpath' | 'toolpathUnread' | 'sheet', string>>;
  /** What was looked at, by what there was to look at. */
  readonly checked: Readonly<Record<'artwork' | 'toolpath' | 'match' | 'material' | 'through', string>>;
  /** Where a problem is. */
  readonly place: Readonly<Record<'line' | 'file' | 'mark' | 'more', string>>;
  /** What the shop could do in place of what was asked for. */
  readonly proposals: Readonly<Record<'stacked' | 'thinner' | 'material', string>>;
  /** By the `fact` of what nobody could answer, those that whoever sent the job can give. */
  readonly questions: Readonly<Record<Question, string>>;
  /** What is asked for in place of a file that was not read, by its kind. */
  readonly askFor: Readonly<Record<'artwork' | 'toolpath' | 'sidecar' | 'folder' | 'other', string>>;
  /** By rule and message; one sentence where it is the same for all of a rule's messages that customers are told. */
  readonly problems: Readonly<Record<string, string | Readonly<Record<string, string>>>>;
}

/** Facts that only whoever sent the job can give. */
export const QUESTIONS = ['material', 'thickness', 'task', 'toolpath', 'artwork', 'file'] as const;
export type Question = (typeof QUESTIONS)[number];
