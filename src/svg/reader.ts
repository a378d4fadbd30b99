import type { ArtworkReader } from '../model/reader.ts';
import { SVG, SVG_PROBLEMS } from './problem-texts.ts';
import { xmlAsUtf8 } from './xml/encoding.ts';

/** The root's tag, with or without a prefix. */
const ROOT = /<(?:[A-Za-z_][\w.-]*:)?svg[\s>]/;

/** SVG 2, as far as it draws outlines. */
export const svgReader: ArtworkReader = {
  id: SVG,
  makes: 'artwork',
  name: 'SVG',
  extensions: ['.svg'],
  // Of UTF-16 every other byte is a NUL: left out, the ASCII letters of the tag remain.
  recognises: (head) => ROOT.test(new TextDecoder('latin1').decode(head.filter((byte) => byte !== 0))),
  comments: [{ opens: '<!--', closes: '-->' }],
  asUtf8: xmlAsUtf8,
  problems: SVG_PROBLEMS,
  standard: 'XML 1.0; SVG 2, its rule for errors in path data included',
  load: async () => {
    const { parseColour, readArtwork } = await import('./read.ts');
    return { read: readArtwork, colourOf: (text) => parseColour(text)?.hex ?? null };
  },
};
