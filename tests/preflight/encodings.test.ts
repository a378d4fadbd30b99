import { describe, expect, it } from 'vitest';
import { run, shed } from '../memory-shop.ts';

const BARE = { machine: 'shed-60w', lens: '2in', material: 'birch-plywood', thickness: '3 mm' };

/** The bytes of a text, one for each character: Latin-1. */
const latin1 = (text: string) => Uint8Array.from(text, (c) => c.charCodeAt(0));
const utf16le = (text: string) =>
  Uint8Array.from([...text].flatMap((c) => [c.charCodeAt(0) & 0xff, c.charCodeAt(0) >> 8]));

/** A drawing whose last path breaks off, on a line that begins with letters that UTF-8 counts otherwise. */
const drawing = (declaration: string, title: string) =>
  `${declaration}<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm">\n<title>${title}</title><path stroke="#c2255c" d="M0 0H9 x"/></svg>`;

function judged(bytes: Uint8Array) {
  const job = run({ ...shed(), 'odd.svg': bytes }, BARE).jobs[0]!;
  expect(job.notChecked.filter((one) => one.kind === 'failed')).toEqual([]);
  return job.findings.filter((one) => one.rule === 'input/syntax');
}

describe('artwork in other encodings', () => {
  it.each<[string, Uint8Array, string]>([
    // "Ã©" in Latin-1 are the two bytes of one "é" in UTF-8.
    ['Latin-1', latin1(drawing('<?xml version="1.0" encoding="ISO-8859-1"?>\n', 'Ã©Ã©Ã©Ã©')), 'Ã©Ã©Ã©Ã©'],
    ['UTF-16 without a mark', utf16le(drawing('', 'é')), 'é'],
    ['UTF-16 with a mark', utf16le(`\uFEFF${drawing('', 'é')}`), 'é'],
  ])('%s: the place and the lines are those of its own characters', (_, bytes, title) => {
    const [finding] = judged(bytes);
    expect(finding).toBeDefined();
    const line = finding!.excerpt!.lines[0]!;
    expect(line).toContain(title);
    expect(line[finding!.location.column - 1]).toBe('x');
  });

  it('a NUL behind the first bracket, which looks like UTF-16, is told in its own file', () => {
    const text = `<\0svg id="svg1" xmlns="http://www.w3.org/2000/svg">\n${'  <rect width="9" height="7"/>\n'.repeat(9)}</svg>\n`;
    // Of an odd number of bytes the last is lost, far behind the first line's end as UTF-8 counts it.
    const odd = text.length % 2 === 1 ? text : `${text} `;
    expect(judged(latin1(odd)).length).toBeGreaterThan(0);
  });

  const waived = (declaration: string) =>
    `${declaration}<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm">\nÃ©Ã©<!-- kerflint-waive input/syntax: scrap -->\n<path stroke="#c2255c" d="M0 0H9 x"/></svg>`;
  it.each<[string, Uint8Array]>([
    ['Latin-1', latin1(waived('<?xml version="1.0" encoding="ISO-8859-1"?>\n'))],
    ['UTF-16 without a mark', utf16le(waived(''))],
    ['UTF-16 with a mark', utf16le(`\uFEFF${waived('')}`)],
  ])('a waiver counts in %s as well', (_, bytes) => {
    expect(judged(bytes).map((one) => one.status)).toEqual(['waived']);
  });
});
