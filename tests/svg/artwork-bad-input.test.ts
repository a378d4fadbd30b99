import { describe, expect, it } from 'vitest';
import type { Artwork } from '../../src/model/artwork.ts';
import { bytesSource, textSource } from '../../src/source/source.ts';
import { readArtwork } from '../../src/svg/read.ts';

const SVG =
  '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="100mm" height="100mm" viewBox="0 0 100 100"';
const STROKE = 'fill="none" stroke="#0b7285"';

function read(text: string | Uint8Array, maxPoints?: number): Artwork {
  const source = typeof text === 'string' ? textSource('a.svg', text) : bytesSource('a.svg', text);
  return readArtwork(source, maxPoints === undefined ? { pxPerInch: 96 } : { pxPerInch: 96, maxPoints });
}

function svg(body: string): Artwork {
  return read(`${SVG}>${body}</svg>`);
}

function codes(artwork: Artwork): string[] {
  return artwork.problems.map((problem) => problem.code);
}

describe('a file that is no artwork', () => {
  it.each([
    ['empty', '', 'empty'],
    ['blank', ' \r\n\t', 'empty'],
    ['plain text', 'G1 X10', 'not-xml'],
    ['NUL bytes', '\0\0\0\0', 'not-xml'],
    ['another XML format', '<html><body/></html>', 'not-svg'],
  ])('%s is said to be so', (_name, text, code) => {
    const artwork = read(text);
    expect(codes(artwork)).toContain(code);
    expect(artwork.analysed).toBe(false);
    expect(artwork.outlines).toEqual([]);
  });

  it('compressed artwork is recognised by its first bytes', () => {
    expect(codes(read(Uint8Array.of(0x1f, 0x8b, 8, 0, 60, 60)))).toEqual(['compressed']);
  });

  it('random bytes do not throw', () => {
    const bytes = Uint8Array.from({ length: 5000 }, (_, i) => (i * 7919 + (i >> 3)) & 255);
    expect(read(bytes).analysed).toBe(false);
  });
});

describe('a file that breaks off', () => {
  it('keeps what stands before the first breach of XML and says where it is', () => {
    const artwork = read(`${SVG}>\n<rect width="10" height="10" ${STROKE}/>\n<g><path d="M0 0L5 5" ${STROKE}/>`);
    expect(artwork.elements).toHaveLength(2);
    expect(artwork.analysed).toBe(false);
    expect(artwork.problems[0]).toMatchObject({ code: 'not-xml', place: { line: 3 } });
  });

  it('takes the first of two roots only', () => {
    const artwork = read(`${SVG}><rect width="10" height="10"/></svg><svg><rect width="9" height="9"/></svg>`);
    expect(artwork.elements).toHaveLength(1);
    expect(codes(artwork)).toContain('not-xml');
  });
});

describe('document types and entities', () => {
  it('an entity bomb is neither expanded nor followed', () => {
    const levels = Array.from({ length: 9 }, (_, i) => `<!ENTITY l${i + 1} "${`&l${i};`.repeat(10)}">`).join('');
    const artwork = read(`<!DOCTYPE svg [<!ENTITY l0 "ha">${levels}]>${SVG}><title>&l9;</title></svg>`);
    expect(artwork.problems[0]).toMatchObject({ code: 'entity', args: { name: 'l9' } });
    expect(artwork.analysed).toBe(false);
  });

  it('an external entity is reported and never opened', () => {
    const artwork = read(`<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>${SVG}><title>&x;</title></svg>`);
    expect(codes(artwork)).toEqual(['external-reference', 'entity']);
  });

  it('the plain text entities that drawing programs write for namespaces are read', () => {
    const text = `<!DOCTYPE svg [<!ENTITY ns "http://www.w3.org/2000/svg">]><svg xmlns="&ns;" width="9mm" height="9mm"><rect width="1" height="1"/></svg>`;
    expect(read(text)).toMatchObject({ analysed: true, problems: [], elements: [{ tag: 'rect' }] });
  });
});

describe('references that lead in circles or multiply', () => {
  it.each([
    ['a use of itself', '<use id="a" href="#a"/>'],
    ['a use of its own group', '<g id="a"><use href="#a"/></g>'],
    ['two that use each other', '<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>'],
    ['a symbol in itself', '<symbol id="a"><use href="#a"/></symbol><use href="#a"/>'],
  ])('%s is stopped', (_name, body) => {
    expect(codes(svg(body))).toContain('circular-use');
  });

  it('ten to the sixth expansions are cut off with a problem', () => {
    let body = `<defs><rect id="u0" width="1" height="1"/>`;
    for (let i = 1; i <= 6; i++) body += `<g id="u${i}">${`<use href="#u${i - 1}"/>`.repeat(10)}</g>`;
    const artwork = svg(`${body}</defs><use href="#u6"/>`);
    expect(artwork.problems).toMatchObject([{ code: 'too-many-elements', args: { limit: 100_000 } }]);
    expect(artwork.analysed).toBe(false);
  });

  it('a missing target is named with its place', () => {
    const [problem] = svg('\n<use xlink:href="#gone"/>').problems;
    expect(problem).toMatchObject({
      code: 'missing-reference',
      args: { href: '#gone' },
      place: { line: 2, column: 18, endColumn: 23 },
    });
  });
});

describe('size and depth', () => {
  it('100,000 nested groups are read to a limit and said to be too deep', () => {
    const artwork = svg('<g>'.repeat(100_000) + '<rect width="1" height="1"/>' + '</g>'.repeat(100_000));
    expect(artwork.problems).toMatchObject([{ code: 'too-deep', args: { limit: 4000 } }]);
    expect(artwork.analysed).toBe(false);
  });

  it('a path of a million points and more than ten megabytes is read', () => {
    let d = 'M0 0';
    for (let i = 1; i <= 1_000_000; i++) d += `L${(i % 997) / 10} ${i % 89}.25`;
    expect(d.length).toBeGreaterThan(10_000_000);
    const artwork = svg(`<path d="${d}" ${STROKE}/>`);
    expect(artwork.outlines[0]?.xy.length).toBe(2_000_002);
    expect(artwork.analysed).toBe(true);
  });

  it('more points than allowed end the reading with a problem', () => {
    const artwork = read(`${SVG}><circle r="40" ${STROKE}/><path d="M0 0L1 1"/></svg>`, 20);
    expect(artwork.problems).toMatchObject([{ code: 'too-many-points', args: { limit: 20 } }]);
    expect(artwork.analysed).toBe(false);
  });

  it('points that run out between two elements are reported too', () => {
    const artwork = read(`${SVG}><path d="M0 0L1 1L2 0"/><g><path d="M0 0L1 1"/></g></svg>`, 3);
    expect(artwork.elements).toHaveLength(1);
    expect(artwork).toMatchObject({ analysed: false, problems: [{ code: 'too-many-points' }] });
  });

  it('a long path that is used over and over is read once', () => {
    const far = `<path id="p" d="${'M0 0'.repeat(500_000)}"/><g id="a">${'<use href="#p"/>'.repeat(1000)}</g>`;
    const artwork = svg(`<defs>${far}</defs>${'<use href="#a"/>'.repeat(20)}`);
    expect(artwork).toMatchObject({ elements: [], analysed: true });
  });

  it('values of a length that no drawing needs are emptied with a problem', () => {
    const artwork = svg(`<rect width="5" height="5" stroke="url(#${'a'.repeat(20_000)})"/>`);
    expect(artwork.problems[0]).toMatchObject({ code: 'bad-value', args: { attribute: 'stroke' } });
  });

  it('many problems of one kind stay a short list with a count', () => {
    const artwork = svg(
      '<path d="M0 0Lx"/>'.repeat(50) + Array.from({ length: 50 }, (_, i) => `<use href="#m${i}"/>`).join(''),
    );
    const missing = artwork.problems.filter((problem) => problem.code === 'missing-reference');
    expect(missing).toHaveLength(20);
    expect(missing[0]?.more).toBe(30);
    expect(artwork.problems.filter((problem) => problem.code === 'bad-path')).toMatchObject([{ more: 49 }]);
  });

  it('a style sheet of nothing but faults is given up before it takes minutes of processor time', () => {
    const before = process.cpuUsage();
    const artwork = svg(`<style>${'a{b}'.repeat(100_000)}</style><path d="M0 0h1" ${STROKE}/>`);
    const { user, system } = process.cpuUsage(before);
    expect(artwork.elements).toHaveLength(1);
    expect(codes(artwork)).toContain('bad-style');
    expect((user + system) / 1e6).toBeLessThan(30);
  });

  it('style sheets that would look at the file over and over are given up', () => {
    const rules = Array.from({ length: 40 }, (_, i) => `rect:nth-last-child(${i + 2}n) ~ rect { fill: red }`).join('');
    const artwork = svg(`<style>${rules}</style>` + '<rect width="1" height="1"/>'.repeat(4000));
    expect(artwork.elements).toHaveLength(4000);
    expect(codes(artwork)).toContain('bad-style');
  });
});

describe('numbers that are no drawing', () => {
  it.each(['NaN', '1e308', '-1e400', 'Infinity'])('%s in path data ends the path there', (number) => {
    const artwork = svg(`<path d="M0 0L10 0L${number} 5L0 9" ${STROKE}/>`);
    expect(artwork.lengthMm).toBeCloseTo(10, 9);
    expect(['bad-path', 'number-out-of-range']).toContain(artwork.problems[0]?.code);
  });

  it('1e308 as a size is out of range', () => {
    expect(svg(`<rect width="1e308" height="5"/>`).problems).toMatchObject([
      { code: 'number-out-of-range', args: { attribute: 'width', text: '1e308' } },
    ]);
  });

  it('transforms that multiply beyond all measure leave the shape out', () => {
    const artwork = svg(`<g transform="scale(1e9)"><g transform="scale(1e9)"><circle r="5"/></g></g>`);
    expect(artwork.elements).toEqual([]);
    expect(artwork.problems).toMatchObject([{ code: 'number-out-of-range', args: { attribute: 'transform' } }]);
  });

  it('a negative size is reported and the shape not drawn', () => {
    const artwork = svg(`<rect width="-5" height="5"/><circle r="-1"/>`);
    expect(artwork.elements).toEqual([]);
    expect(artwork.problems.map((p) => [p.code, p.args['text']])).toEqual([
      ['bad-value', '-5'],
      ['bad-value', '-1'],
    ]);
  });

  it('a viewBox of no size draws nothing', () => {
    const artwork = read(
      '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 0 9"><path d="M0 0L1 1"/></svg>',
    );
    expect(codes(artwork)).toEqual(['zero-size']);
    expect(artwork.outlines).toEqual([]);
  });
});

describe('encodings', () => {
  const body = `${SVG}><g id="gr\u00fcn"><rect width="5" height="5"/></g></svg>`;
  const bytes = (text: string, encoding: BufferEncoding): Uint8Array => new Uint8Array(Buffer.from(text, encoding));

  it.each([
    ['UTF-16 without a mark', bytes(body, 'utf16le')],
    ['a declared ISO-8859-1', bytes(`<?xml version="1.0" encoding="ISO-8859-1"?>${body}`, 'latin1')],
    ['a declared windows-1252', bytes(`<?xml version='1.0' encoding='windows-1252'?>${body}`, 'latin1')],
  ])('%s is read', (_name, file) => {
    expect(read(file)).toMatchObject({ problems: [], elements: [{ layers: ['gr\u00fcn'] }] });
  });

  it('bytes that are not UTF-8 are reported where they stand', () => {
    expect(read(bytes(body, 'latin1')).problems).toMatchObject([
      { code: 'not-xml', args: { reason: 'bytes that are not UTF-8' }, place: { line: 1, column: SVG.length + 11 } },
    ]);
  });

  // XML 1.0, 2.2: U+FFFD is a character like any other.
  it('the character that stands for lost bytes may be the file’s own', () => {
    const own = `${SVG}><!-- \uFFFD --></svg>`;
    expect(codes(read(own))).not.toContain('not-xml');
    const utf16 = Uint8Array.from([...`\uFEFF${own}`].flatMap((c) => [c.charCodeAt(0) & 255, c.charCodeAt(0) >> 8]));
    expect(codes(read(utf16))).not.toContain('not-xml');
    expect(codes(read(bytes(`${own}`, 'latin1')))).toContain('not-xml');
  });

  it('an unknown encoding is reported, and UTF-8 tried', () => {
    const artwork = read(`<?xml version="1.0" encoding="klingon"?>${body}`);
    expect(artwork.problems).toMatchObject([{ code: 'not-xml', place: { column: 31 } }]);
    expect(artwork.elements).toHaveLength(1);
  });
});

describe('what stands behind the root', () => {
  it('is reported, and the drawing counts as read', () => {
    expect(read(`${SVG}><rect width="5" height="5"/></svg>\n\0\0`)).toMatchObject({
      analysed: true,
      problems: [{ code: 'not-xml', place: { line: 2 } }],
    });
  });
});

describe('what is read in silence', () => {
  const body = `${SVG}>\n<rect x="1" y="1" width="5" height="5" ${STROKE}/>\n</svg>`;
  it.each([
    ['a byte-order mark', '\uFEFF' + body],
    ['CRLF', body.replaceAll('\n', '\r\n')],
    ['lone CR', body.replaceAll('\n', '\r')],
  ])('%s', (_name, text) => {
    const artwork = read(text);
    expect(artwork.problems).toEqual([]);
    expect(artwork.elements[0]?.place).toMatchObject({ line: 2, column: 1 });
  });

  it('UTF-16 by its byte-order mark', () => {
    const bytes = new Uint8Array(Buffer.from('\uFEFF' + body, 'utf16le'));
    expect(read(bytes)).toMatchObject({ problems: [], elements: [{ tag: 'rect' }] });
  });
});

describe('drawings that ask for more work than is done', () => {
  const ring = (corners: number) =>
    Array.from({ length: corners }, (_, i) => {
      const angle = (2 * Math.PI * i) / corners;
      return `${(50 + 40 * Math.cos(angle)).toFixed(4)},${(50 + 41 * Math.sin(angle)).toFixed(4)}`;
    }).join(' ');
  const clipped = (corners: number) =>
    svg(
      `<clipPath id="c"><circle cx="50" cy="50" r="40"/><polygon points="${ring(corners)}"/></clipPath><polygon clip-path="url(#c)" points="${ring(corners)}" ${STROKE}/>`,
    );

  it('say so where clipping was given up, and keep the outline whole', () => {
    const artwork = clipped(8000);
    expect(artwork.endedEarly).toContain('not all elements were clipped');
    expect(artwork.outlines).toHaveLength(1);
    expect(clipped(100).endedEarly).toBeNull();
  });

  it('say so where a clip path holds too many elements', () => {
    const many = (count: number) =>
      svg(
        `<clipPath id="c">${'<rect width="9" height="9"/>'.repeat(count)}</clipPath><rect clip-path="url(#c)" width="5" height="50" ${STROKE}/>`,
      );
    expect(many(20_001).endedEarly).toContain('not all elements were clipped');
    expect(many(100).endedEarly).toBeNull();
  });

  it('say so where not every selector was tried on every element', () => {
    const styled = (elements: number) => {
      const rules = Array.from({ length: 3000 }, (_, i) => `*:not(.x${i}) { stroke-dasharray: none }`).join('\n');
      return svg(`<style>${rules}</style>${`<rect width="5" height="5" ${STROKE}/>`.repeat(elements)}`);
    };
    expect(styled(2000).endedEarly).toContain('not all were tried on all elements');
    expect(styled(10).endedEarly).toBeNull();
  });

  it('say so of media queries nested too deep', () => {
    const nested = (depth: number) =>
      svg(`<style>${'@media all {'.repeat(depth)} rect { stroke: #ff0000 } ${'}'.repeat(depth)}</style>`);
    expect(codes(nested(25))).toContain('bad-style');
    expect(codes(nested(10))).not.toContain('bad-style');
  });

  it('are told of every image, of one size or of many', () => {
    const png = (width: number) => {
      const header = Buffer.alloc(33);
      header.write('\x89PNG\r\n\x1a\n\0\0\0\rIHDR', 0, 'latin1');
      header.writeUInt32BE(width, 16);
      header.writeUInt32BE(10, 20);
      return `<image width="5" height="5" href="data:image/png;base64,${header.toString('base64')}"/>`;
    };
    const images = Array.from({ length: 30 }, (_, i) => png(10 + i)).join('');
    const embedded = svg(`${images}${png(10)}`).problems.filter(({ code }) => code === 'image-embedded');
    expect(embedded.map(({ args }) => args['widthPx'])).toEqual(Array.from({ length: 30 }, (_, i) => 10 + i));
    expect(embedded[0]!.more).toBe(1);
  });
});
