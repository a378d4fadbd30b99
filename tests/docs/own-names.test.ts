import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

/**
 * Words and colours of our own. In no drawing does a colour mean an operation, so none of ours may look as if one did: pure red, blue and
 * black are what people are used to read that way (common practice, no source).
 */
const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const PURE = String.raw`(?:#f00|#ff0000|red|#00f|#0000ff|blue|#000|#000000|black)(?![\w-])`;
const SELECTS = new RegExp(String.raw`strokes:\s*\{[^}]*\bstroke:\s*\\?["']?${PURE}`, 'i');
const DRAWS = new RegExp(String.raw`\bstroke\s*[=:]\s*\\?["']?${PURE}`, 'i');

/** How SVG writes colours is what these are about: no task is named in them. */
const COLOUR_SYNTAX = [/^tests\/svg\//, /^fixtures\/artwork\//, /^tests\/docs\/own-names\.test\.ts$/];
/** What a person reads or copies, and what tests draw. */
const FOLDERS = ['examples', 'fixtures', 'tests', 'docs', 'data', 'src/bench', 'build'];

function textsIn(folders: readonly string[]): [file: string, text: string][] {
  return folders.flatMap((folder) =>
    readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true })
      .filter((each) => each.isFile() && /\.(ts|mjs|svg|ya?ml|md|json|txt|gcode)$/.test(each.name))
      .map((each): [string, string] => {
        const path = join(each.parentPath, each.name);
        return [path.slice(ROOT.length).replaceAll('\\', '/').replace(/^\//, ''), readFileSync(path, 'utf8')];
      }),
  );
}

describe('names of our own', () => {
  const texts = textsIn(FOLDERS);
  const pages = ['README.md', 'CONTRIBUTING.md', 'SECURITY.md', 'CHANGELOG.md'].map((name): [string, string] => [
    name,
    readFileSync(join(ROOT, name), 'utf8'),
  ]);

  it.each([
    ['strokes: { stroke: "#ff0000" }', 'stroke="#c2255c"'],
    ['strokes: { layer: a, stroke: Blue }', "stroke: '#9c36b5'"],
    ['<path stroke="#000" d="M0 0h1"/>', '<path stroke="#0b7285"/>'],
    ['.cut { stroke: black }', '.cut { stroke: #000001 }'],
  ])('are looked for: %s is met, %s is not', (pure, own) => {
    expect(SELECTS.test(pure) || DRAWS.test(pure)).toBe(true);
    expect(SELECTS.test(own) || DRAWS.test(own)).toBe(false);
  });

  it('draw and select with no pure red, blue or black', () => {
    expect(texts.length).toBeGreaterThan(500);
    const met = [...texts, ...pages]
      .filter(([file]) => !COLOUR_SYNTAX.some((one) => one.test(file)))
      .filter(([, text]) => SELECTS.test(text) || DRAWS.test(text))
      .map(([file]) => file);
    expect(met).toEqual([]);
  });

  it('give the demo drawings hues of which none stands for one operation', () => {
    const hues = new Map<string, Set<string>>();
    for (const [file, text] of textsIn(['examples']).filter(([name]) => name.endsWith('.svg'))) {
      for (const [, hue = ''] of text.matchAll(/stroke="(#\w+)"/g)) {
        hues.set(hue, new Set([...(hues.get(hue) ?? []), file]));
      }
    }
    expect(hues.size).toBeGreaterThan(6);
    for (const [hue, files] of hues) expect([hue, files.size]).toEqual([hue, 1]);
  });

  it('call the distance between the lines of a raster its pitch', () => {
    const met = [...texts, ...pages, ...textsIn(['src'])]
      .filter(([file]) => file !== 'tests/docs/own-names.test.ts')
      .filter(([, text]) => /\blines? interval/i.test(text))
      .map(([file]) => file);
    expect(met).toEqual([]);
  });
});
