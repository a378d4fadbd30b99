import { describe, expect, it } from 'vitest';
import { replaceSpans } from '../../src/svg/xml/spans.ts';
import { demoFiles, type Files, run, shed } from '../memory-shop.ts';
import { toItsEnd } from '../to-its-end.ts';

const BARE = { machine: 'shed-60w', lens: '2in', material: 'birch-plywood', thickness: '3 mm' };
const LINE = '<path stroke="#c2255c" d="M0 0H9"/>';
const svg = (inside: string) => `<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm">${inside}</svg>`;
const trio = demoFiles('gate-sign.job.yaml', 'gate-sign.gcode', 'gate-sign.svg');
const sidecar = (change: (text: string) => string): Files => ({
  ...trio,
  'gate-sign.job.yaml': change(trio['gate-sign.job.yaml'] as string),
});
const many = (text: string) => text.repeat(Math.floor(240_000 / text.length));

// With a pattern that tries every stretch of the text these take minutes or never end.
const LONG: [string, Files][] = [
  [
    'a name of an element in front of a wrong value',
    { 'long.svg': svg(`<path d="M0 0H9 x"/><${'a'.repeat(600_000)} transform="turn(1)"/>`) },
  ],
  [
    'the size in the shorthand for fonts',
    { 'long.svg': svg(`<style>text{font:${'1'.repeat(600_000)}}</style><text>a</text>`) },
  ],
  ['starts of instructions in a comment', { 'long.svg': svg(`<!--${many('<?')}-->${LINE}`) }],
  ['starts of comments in a text of a style', { 'long.svg': svg(`<style>path{--a:"${many('/*')}"}</style>${LINE}`) }],
  ['brackets in a document type', { 'long.svg': `<!DOCTYPE svg [${many('[')}]>${svg(LINE)}` }],
  ['entities in a document type', { 'long.svg': `<!DOCTYPE svg [${many('<!ENTITY a "b">[')}]>${svg(LINE)}` }],
  ['blanks in a reference', { 'long.svg': svg(`<path clip-path="url(${many(' ')}x" d="M0 0H9"/>`) }],
  ['blanks in a colour', { 'long.svg': svg(`<path stroke="color(srgb${many(' ')}x" d="M0 0H9"/>`) }],
  ['comments at the head of a sidecar with Windows line ends', sidecar((text) => `${many('#\r\n')}${text}`)],
  ['blanks in a thickness', sidecar((text) => text.replace(/^thickness: .*/m, `thickness: "${many(' ')}x"`))],
  ['blanks in a power', sidecar((text) => text.replace(/power: [^\n,}]*/, `power: "${many(' ')}x"`))],
];

describe('long texts are read through once:', () => {
  it.each(LONG)('%s', (_, files) => {
    const { jobs } = toItsEnd(() => run({ ...shed(), ...files }, 'long.svg' in files ? BARE : {}));
    expect(jobs).toHaveLength(1);
    expect(jobs[0]?.incomplete.join()).not.toContain('fault of kerflint');
  });
});

describe('spans of a text', () => {
  it.each([
    ['a /* b */ c /**/ d', 'a - c - d'],
    ['/*/ a', '/*/ a'],
    ['/*/ a */', '-'],
    ['/* a /* b */ c */', '- c */'],
    ['a */ /* b', 'a */ /* b'],
    ['', ''],
  ])('%j are replaced one by one, and kept where they are not closed', (text, replaced) => {
    expect(replaceSpans(text, '/*', '*/', () => '-')).toBe(replaced);
    expect(text.replace(/\/\*[\s\S]*?\*\//g, '-')).toBe(replaced);
  });
});
