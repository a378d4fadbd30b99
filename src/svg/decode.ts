import type { Place } from '../source/place.ts';
import { type Source, wholeText } from '../source/source.ts';
import { LineIndex } from '../source/text.ts';
import { type ProblemLog, quote } from './problem-log.ts';

/**
 * The text of an XML file by its own encoding (XML 1.0 appendix F): a byte-order mark, the look of UTF-16 without one, or
 * the encoding that the XML declaration names; else UTF-8.
 */
export function xmlText(source: Source, limitBytes: number, log: ProblemLog): string {
  const text = wholeText(source, limitBytes);
  const wide = text.charCodeAt(0) === 60 && text.charCodeAt(1) === 0 ? 'utf-16le' : null;
  const encoding = wide ?? (text.charCodeAt(0) === 0 && text.charCodeAt(1) === 60 ? 'utf-16be' : declared(text));
  if (encoding !== null) {
    const decoder = decoderFor(encoding);
    if (decoder) return decodedBy(decoder, source);
    log.add('not-xml', () => at(text, text.indexOf(encoding), encoding.length), {
      reason: `the encoding "${quote(encoding)}" is not known`,
    });
  }
  return text;
}

/** Says where bytes stood that the encoding does not have. */
export function reportLostBytes(text: string, log: ProblemLog): void {
  const lost = text.indexOf('\uFFFD');
  if (lost >= 0) log.add('not-xml', () => at(text, lost, 1), { reason: 'bytes that are not UTF-8' });
}

type Decoder = InstanceType<typeof TextDecoder>;

function at(text: string, offset: number, length: number): Place {
  return new LineIndex(text).place(offset, offset + length);
}

/** An encoding in the XML declaration, other than those that need no second look. */
function declared(text: string): string | null {
  const name = /^<\?xml[^>]*?\sencoding\s*=\s*["']([^"']*)["']/.exec(text.slice(0, 200))?.[1];
  return name === undefined || /^(?:utf-?8|utf-?16(?:le|be)?|us-ascii)$/i.test(name) ? null : name;
}

function decoderFor(encoding: string): Decoder | null {
  try {
    return new TextDecoder(encoding);
  } catch {
    return null;
  }
}

function decodedBy(decoder: Decoder, source: Source): string {
  let text = '';
  for (const chunk of source.chunks()) text += decoder.decode(chunk, { stream: true });
  return text + decoder.decode();
}
