import type { Readable, Writable } from 'node:stream';
import { isCancel, text } from '@clack/prompts';
import type { Io } from './io.ts';

/**
 * Puts a question to the person at the terminal until the answer is taken; null when they break off. Questions go to stderr, so that what is
 * printed stays what was asked for.
 * @param problemOf what is wrong with an answer, or null.
 */
export async function promptText(
  { question, example }: { question: string; example: string },
  problemOf: (answer: string) => string | null,
  io: Io,
): Promise<string | null> {
  const answer = await text({
    message: question,
    placeholder: example,
    validate: (typed) => problemOf(typed ?? '') ?? undefined,
    // Where somebody can be asked, these are the streams of a terminal.
    input: io.stdin as unknown as Readable,
    output: io.stderr as unknown as Writable,
  });
  return isCancel(answer) ? null : answer;
}
