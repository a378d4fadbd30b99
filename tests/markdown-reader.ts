import { micromark } from 'micromark';
import { gfm, gfmHtml } from 'micromark-extension-gfm';

export interface Page {
  /** Level and text, in order. */
  headings: { level: number; text: string }[];
  /** Names of all elements, each once, those of markup that stands in the text as it is among them. */
  elements: string[];
  links: string[];
}

/** What a reader of GitHub-flavoured Markdown makes of a text, by a parser that has no part in writing it. */
export function readMarkdown(text: string): Page {
  const page = htmlOf(text);
  return {
    headings: [...page.matchAll(/<h([1-6])>([\s\S]*?)<\/h\1>/g)].map(([, level, inside]) => ({
      level: Number(level),
      text: inside!,
    })),
    elements: [...new Set([...page.matchAll(/<([a-z!?][^\s>/]*)/gi)].map(([, name]) => name!.toLowerCase()))].sort(),
    links: [...page.matchAll(/\s(?:href|src)="([^"]*)"/gi)].map(([, href]) => href!),
  };
}

/** Its words alone, as they are shown. */
export function wordsOfMarkdown(text: string): string {
  return wordsOfHtml(htmlOf(text));
}

/** The words of a page, as they are shown, without its elements. */
export function wordsOfHtml(page: string): string {
  const entities: Record<string, string> = { lt: '<', gt: '>', amp: '&', quot: '"', '#39': "'" };
  return page.replace(/<[^>]*>/g, ' ').replace(/&(lt|gt|amp|quot|#39);/g, (_, name: string) => entities[name]!);
}

function htmlOf(text: string): string {
  return micromark(text, { allowDangerousHtml: true, extensions: [gfm()], htmlExtensions: [gfmHtml()] });
}
