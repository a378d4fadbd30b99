import { firstBytes, type Source } from '../../source/source.ts';

/** Bytes at the start of a file in which its XML declaration is looked for. */
const HEAD_BYTES = 200;

/**
 * The encoding that an XML file has by its own account (XML 1.0 appendix F): a byte-order mark of UTF-16, its look without one, or the
 * name in the XML declaration. Null where nothing says other than UTF-8.
 */
export function xmlEncoding(source: Source): string | null {
  const head = firstBytes(source, HEAD_BYTES);
  const [first, second] = head;
  if ((first === 0xff && second === 0xfe) || (first === 0x3c && second === 0)) return 'utf-16le';
  if ((first === 0xfe && second === 0xff) || (first === 0 && second === 0x3c)) return 'utf-16be';
  // The mark of UTF-8 is no "<" either: it stands, whatever the declaration behind it says.
  const text = String.fromCharCode(...head);
  const name = /^<\?xml[^>]*?\sencoding\s*=\s*["']([^"']*)["']/.exec(text)?.[1];
  return name === undefined || /^(?:utf-?8|utf-?16(?:le|be)?|us-ascii)$/i.test(name) ? null : name;
}

/** A decoder by an encoding's name; null when there is no such encoding. */
export function decoderFor(encoding: string): InstanceType<typeof TextDecoder> | null {
  try {
    return new TextDecoder(encoding);
  } catch {
    return null;
  }
}

/** The texts of a source's chunks in turn, in one encoding. */
export function* decodedChunks(source: Source, decoder: InstanceType<typeof TextDecoder>): Iterable<string> {
  for (const chunk of source.chunks()) yield decoder.decode(chunk, { stream: true });
  yield decoder.decode();
}

/**
 * An XML file as its reader sees it, in UTF-8, so that whoever looks up a line of it counts the same characters: the source itself
 * where it is UTF-8 already. `size` stays that of the file.
 */
export function xmlAsUtf8(source: Source): Source {
  return {
    name: source.name,
    size: source.size,
    *chunks() {
      const encoding = xmlEncoding(source);
      const decoder = encoding === null ? null : decoderFor(encoding);
      if (!decoder) {
        yield* source.chunks();
        return;
      }
      const encoder = new TextEncoder();
      for (const text of decodedChunks(source, decoder)) yield encoder.encode(text);
    },
  };
}
