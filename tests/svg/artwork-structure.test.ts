import { describe, expect, it } from 'vitest';
import type { Artwork } from '../../src/model/artwork.ts';
import { textSource } from '../../src/source/source.ts';
import { readArtwork } from '../../src/svg/read.ts';

function svg(body: string): Artwork {
  const head =
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:d="http://example.org/drawing" width="100mm" height="100mm" viewBox="0 0 100 100">';
  return readArtwork(textSource('a.svg', `${head}\n${body}</svg>`), { pxPerInch: 96 });
}

const RECT = '<rect width="5" height="5"/>';

function problems(body: string): [string, Record<string, string | number>][] {
  return svg(body).problems.map(({ code, args }) => [code, args]);
}

describe('what an outline can be selected by', () => {
  it('its own id and classes, and the ids and labels of its groups, innermost first', () => {
    const [element] = svg(
      `<g id="sheet" d:label="Beech 6 mm"><g d:label="cut"><g class="x"><path id="p" class=" slot  deep " d="M0 0h1"/></g></g></g>`,
    ).elements;
    expect(element).toMatchObject({ id: 'p', classes: ['slot', 'deep'], layers: ['cut', 'sheet', 'Beech 6 mm'] });
  });

  it('the place of the element that draws it, also through use', () => {
    const { elements } = svg(`<defs>\n  <rect id="r" width="5" height="5"/></defs><use href="#r"/>`);
    expect(elements[0]?.place).toEqual({ line: 3, column: 3, endLine: 3, endColumn: 38 });
  });

  it('a fill without a stroke, and a stroke without a fill', () => {
    const { elements } = svg(
      `<rect width="1" height="1"/><rect width="1" height="1" fill="none" stroke="#F00" stroke-width="2"/>`,
    );
    expect(elements.map(({ fill, stroke, strokeWidthMm }) => ({ fill, stroke, strokeWidthMm }))).toEqual([
      { fill: '#000000', stroke: null, strokeWidthMm: 0 },
      { fill: null, stroke: '#ff0000', strokeWidthMm: 2 },
    ]);
  });

  it('a gradient as stroke is a paint server, and said so', () => {
    const artwork = svg(`<linearGradient id="l"/><path d="M0 0h5" stroke="url(#l)"/>`);
    expect(artwork.elements[0]?.stroke).toBe('paint-server');
    expect(artwork.problems).toMatchObject([{ code: 'paint-server-stroke', args: { paint: 'linearGradient' } }]);
  });
});

describe('what is there and not drawn', () => {
  it.each([
    ['display', `<g style="display:none">${RECT}</g>`],
    ['visibility', `<g visibility="hidden">${RECT}</g>`],
    ['opacity', `<g opacity="0%">${RECT}</g>`],
    ['no-paint', '<rect width="5" height="5" fill="none"/>'],
    ['no-paint', '<rect width="5" height="5" fill="none" stroke="red" stroke-width="0"/>'],
    ['no-paint', '<rect width="5" height="5" fill="none" stroke="red" stroke-opacity="0"/>'],
    ['no-paint', '<line x2="5" fill="red"/>'],
    ['clip', `<clipPath id="c"><rect x="50" width="5" height="5"/></clipPath><g clip-path="url(#c)">${RECT}</g>`],
    ['mask', `<mask id="m"/><g mask="url(#m)">${RECT}</g>`],
  ])('%s: %s', (why, body) => {
    expect(problems(body)).toMatchObject([['hidden', { why, part: 'whole' }]]);
    expect(svg(body).outlines).toEqual([]);
  });

  it('an empty hidden group is no matter', () => {
    expect(problems('<g display="none"><title>x</title></g>')).toEqual([]);
  });

  it('an outline half under a clip is cut there, and that is said', () => {
    const artwork = svg(
      '<clipPath id="c"><rect width="10" height="10"/></clipPath><path clip-path="url(#c)" d="M-5 5H20" stroke="red"/>',
    );
    expect([...artwork.outlines[0]!.xy]).toEqual([0, 5, 10, 5]);
    expect(artwork.lengthMm).toBeCloseTo(10, 9);
    expect(artwork.problems).toMatchObject([{ code: 'hidden', args: { why: 'clip', part: 'part' } }]);
  });

  it('black in a mask hides, white shows', () => {
    const mask =
      '<mask id="m" maskContentUnits="userSpaceOnUse"><rect width="20" height="10" fill="white"/><rect x="5" width="5" height="10"/></mask>';
    const artwork = svg(`${mask}<path mask="url(#m)" fill="none" stroke="red" d="M0 5L30 6"/>`);
    const spans = artwork.outlines.map(({ xy }) => [xy[0], xy.at(-2)].map((x) => Math.round(x! * 1000) / 1000));
    expect(spans).toEqual([
      [0, 5],
      [10, 20],
    ]);
  });

  it('a mask of unknown area is reported, and the outline kept', () => {
    const artwork = svg(`<mask id="m"><text>x</text></mask><g mask="url(#m)">${RECT}</g>`);
    expect(artwork.outlines).toHaveLength(1);
    expect(artwork.problems).toMatchObject([{ code: 'hidden', args: { why: 'mask', part: 'unknown' } }]);
  });

  it('outlines beyond the page stay: a machine would cut them', () => {
    expect(svg('<rect x="150" width="5" height="5"/>').boundsMm).toMatchObject({ minX: 150, maxX: 155 });
  });
});

describe('what no machine can cut', () => {
  it('live text is quoted', () => {
    expect(problems('<text y="9">Thyme <tspan>1</tspan></text><text/>')).toEqual([['live-text', { text: 'Thyme 1' }]]);
  });

  it('dashes, which are kept as the whole line', () => {
    const dashes = ['4 2', '0', 'none', '0.5mm'].map(
      (value) => `<path d="M0 0h9" stroke="red" stroke-dasharray="${value}"/>`,
    );
    const read = svg(dashes.join(''));
    expect(read.problems.map((one) => [one.code, 1 + (one.more ?? 0)])).toEqual([['dashed-stroke', 2]]);
    expect(read.outlines.map((one) => Math.round(one.lengthMm * 1e6))).toEqual(
      new Array(4).fill(Math.round(read.outlines[0]!.lengthMm * 1e6)),
    );
  });

  it('markers that would be drawn', () => {
    const marker = '<marker id="m"><path d="M0 0h1"/></marker>';
    expect(
      problems(
        `${marker}<path d="M0 0h9" stroke="red" marker-end="url(#m)"/><path d="M0 0h9" stroke="red" style="marker: url(#m)"/>`,
      ),
    ).toEqual([['not-drawable', { tag: 'marker' }]]);
    expect(svg(`${marker}<path d="M0 0h9" stroke="red" marker-end="url(#m)"/>`).elements).toHaveLength(1);
  });

  it('foreign objects', () => {
    expect(problems('<foreignObject width="5" height="5"/>')).toEqual([['foreign-object', {}]]);
  });

  it('scripts, event handlers, script links and animation, drawn or not', () => {
    const body = `<defs><script>x()</script></defs><g onclick="x()"><a href=" javascript:x()">${RECT}</a><animate/></g>`;
    expect(problems(body).map(([code, args]) => `${code} ${args['what']}`)).toEqual([
      'active-content script',
      'active-content onclick',
      'active-content javascript:',
      'active-content animate',
    ]);
  });
});

describe('references out of the file are reported and never followed', () => {
  it.each([
    ['use', '<use href="parts.svg#peg"/>', 'parts.svg#peg'],
    ['path', '<path d="M0 0h1" stroke="url(http://example.org/a.svg#g) red"/>', 'http://example.org/a.svg#g'],
    ['style', '<style>@import "more.css";</style>', 'more.css'],
    ['style', '<style>@font-face { font-family: x; src: url(x.woff) }</style>', 'x.woff'],
    ['rect', '<rect width="1" height="1" clip-path="url(c.svg#c)"/>', 'c.svg#c'],
  ])('%s: %s', (tag, body, href) => {
    expect(problems(body)).toContainEqual(['external-reference', { tag, href }]);
  });

  it('a linked image', () => {
    expect(problems('<image href="photo.png" width="5" height="5"/>')).toEqual([
      ['image-linked', { href: 'photo.png' }],
    ]);
  });

  it('a style sheet in front of the root', () => {
    const text =
      '<?xml version="1.0"?>\n<?xml-stylesheet href="a.css" type="text/css"?>\n<svg xmlns="http://www.w3.org/2000/svg" width="1mm" height="1mm"/>';
    expect(readArtwork(textSource('a.svg', text), { pxPerInch: 96 }).problems).toMatchObject([
      { code: 'external-reference', args: { href: 'a.css', tag: 'xml-stylesheet' }, place: { line: 2 } },
    ]);
  });

  // Associating Style Sheets with XML documents 1.0: pseudo-attributes are written as attributes of a tag are.
  it.each([
    [`title="see href='b.css'" href="it's.css"`, "it's.css"],
    [`href='a.css'?><?xml-stylesheet href="a\\b.css"`, 'a.css', 'a\\b.css'],
    ['href="007"', 'href="007"'],
    ['href="a.css', 'href="a.css'],
    ['"', '"'],
    ['href="a"/><b ', 'href="a"/><b'],
    ['>', '>'],
    ['/>', '/>'],
    ['a.css', 'a.css'],
  ])('a style sheet by the instruction %s', (body, ...hrefs) => {
    const text = `<?xml-stylesheet ${body}?><svg xmlns="http://www.w3.org/2000/svg" width="1mm" height="1mm"/>`;
    const { problems } = readArtwork(textSource('a.svg', text), { pxPerInch: 96 });
    expect(problems.map(({ code, args }) => [code, args['href']])).toEqual(
      hrefs.map((href) => ['external-reference', href]),
    );
  });
});

// Headers by the formats' own specifications: PNG (ISO/IEC 15948), GIF89a, JPEG (ISO/IEC 10918-1), WebP (RFC 9649).
describe('embedded images: pixels, size and resolution', () => {
  const bytes = (...parts: (string | number[])[]): string =>
    Buffer.concat(
      parts.map((part) => (typeof part === 'string' ? Buffer.from(part, 'latin1') : Buffer.from(part))),
    ).toString('base64');
  const images: [string, string][] = [
    ['png', bytes([137], 'PNG\r\n', [26, 10, 0, 0, 0, 13], 'IHDR', [0, 0, 1, 0, 0, 0, 0, 128, 8, 6, 0, 0, 0])],
    ['gif', bytes('GIF89a', [0, 1, 128, 0, 0, 0, 0])],
    ['jpeg', bytes([255, 216, 255, 224, 0, 4, 0, 0, 255, 255, 192, 0, 11, 8, 0, 128, 1, 0, 1, 1, 17, 0])],
    ['webp', bytes('RIFF', [30, 0, 0, 0], 'WEBPVP8X', [10, 0, 0, 0, 0, 0, 0, 0, 255, 0, 0, 127, 0, 0])],
    ['webp', bytes('RIFF', [30, 0, 0, 0], 'WEBPVP8L', [5, 0, 0, 0, 0x2f, 0xff, 0xc0, 0x1f, 0], 'padding')],
  ];
  it.each(images)('%s', (type, base64) => {
    expect(
      problems(`<image href="data:image/x;base64,${base64}" width="25.4" height="50" transform="rotate(30)"/>`),
    ).toEqual([['image-embedded', { type, widthPx: 256, heightPx: 128, widthMm: 25.4, heightMm: 12.7, ppi: 256 }]]);
  });

  it('an image of unknown kind is not drawable', () => {
    expect(problems('<image href="data:image/svg+xml,%3Csvg/%3E"/>')).toEqual([
      ['not-drawable', { tag: 'image image/svg+xml' }],
    ]);
  });
});
