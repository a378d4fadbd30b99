import type { Place } from '../../source/place.ts';
import { isWholeText, type Source, wholeText } from '../../source/source.ts';
import { LineTable } from '../../source/text.ts';
import { type ProblemLog, quote } from '../problem-log.ts';
import { decodedChunks, decoderFor, xmlEncoding } from './encoding.ts';

/** The text of an XML file by its own encoding; an encoding that is not known is said, and read as UTF-8. */
export function xmlText(source: Source, limitBytes: number, log: ProblemLog): string {
  const text = wholeText(source, limitBytes);
  const encoding = xmlEncoding(source);
  if (encoding === null) return text;
  const decoder = decoderFor(encoding);
  if (decoder) return [...decodedChunks(source, decoder)].join('');
  log.add('not-xml', () => at(text, text.indexOf(encoding), encoding.length), {
    reason: `the encoding "${quote(encoding)}" is not known`,
  });
  return text;
}

/** Says where bytes stood that the encoding does not have; the character that stands for them may also be the file's own. */
export function reportLostBytes(source: Source, text: string, log: ProblemLog): void {
  const lost = text.indexOf('\uFFFD');
  if (lost < 0) return;
  const encoding = xmlEncoding(source);
  const isKnown = encoding !== null && decoderFor(encoding) !== null;
  if (!isWholeText(source, isKnown ? encoding : undefined))
    log.add('not-xml', () => at(text, lost, 1), { reason: 'bytes that are not UTF-8' });
}

function at(text: string, offset: number, length: number): Place {
  return new LineTable(text).place(offset, offset + length);
}
