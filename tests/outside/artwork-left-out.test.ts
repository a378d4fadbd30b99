// What is drawn and has no outlines here, as @resvg/resvg-js sees it, another implementation of SVG: it draws each file as it is and with
// everything disarmed that we have no outlines for. Where the pictures differ, something was drawn that must have been said.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { Resvg } from '@resvg/resvg-js';
import { describe, expect, it } from 'vitest';
import { textSource } from '../../src/source/source.ts';
import { readArtwork } from '../../src/svg/read.ts';

const REPOSITORY = join(import.meta.dirname, '../..');
const FOLDERS = [
  join(REPOSITORY, 'fixtures/artwork'),
  join(REPOSITORY, 'fixtures/rules/artwork'),
  join(REPOSITORY, '../shared/corpus/svg'),
];

const files = FOLDERS.filter((folder) => existsSync(folder)).flatMap((folder) =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.svg'))
    .map((name) => join(folder, name)),
);
if (files.length < 150) console.warn('What is left out was held against resvg without the corpus.');

/** Elements that draw something which has no outlines here, by names that no implementation knows. */
const disarmed = (text: string): string =>
  text.replace(/<(\/?)((?:svg:)?(?:text|image|pattern|marker|foreignObject))\b/g, '<$1x-$2');

const pixels = (text: string): Buffer =>
  Buffer.from(
    new Resvg(text, { font: { loadSystemFonts: true }, fitTo: { mode: 'width', value: 300 } }).render().pixels,
  );

/** Drawings that resvg refuses altogether. */
function drawn(text: string): Buffer | null {
  try {
    return pixels(text);
  } catch {
    return null;
  }
}

const WITH_PICTURES = files.flatMap((file) => {
  const text = readFileSync(file, 'utf8');
  const whole = drawn(text);
  const rest = whole && drawn(disarmed(text));
  return whole && rest ? [{ name: relative(REPOSITORY, file), text, differs: !whole.equals(rest) }] : [];
});

describe('what is drawn and has no outlines', () => {
  it.each(WITH_PICTURES.filter(({ differs }) => differs))('$name: is said, and taken down', ({ name, text }) => {
    const { leftOut, problems } = readArtwork(textSource(name, text), { pxPerInch: 96 });
    // A clip path of text: nothing is left out, but what it leaves is not known, and the lines are kept whole.
    if (problems.some(({ code, args }) => code === 'hidden' && args['part'] === 'unknown')) return;
    expect(leftOut.filter(({ kind }) => kind !== 'hidden')).not.toEqual([]);
    const codes = ['live-text', 'image-embedded', 'image-linked', 'not-drawable', 'foreign-object'];
    expect(problems.some(({ code }) => codes.includes(code))).toBe(true);
  });

  it('is there in some files, and not in others', () => {
    expect(WITH_PICTURES.filter(({ differs }) => differs).length).toBeGreaterThan(3);
    expect(WITH_PICTURES.filter(({ differs }) => !differs).length).toBeGreaterThan(10);
  });
});
