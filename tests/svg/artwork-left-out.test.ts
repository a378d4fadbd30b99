import { describe, expect, it } from 'vitest';
import type { Artwork } from '../../src/model/artwork.ts';
import { textSource } from '../../src/source/source.ts';
import { readArtwork } from '../../src/svg/read.ts';

/** What is drawn and not drawn is SVG 2's: §13.7 markers, §14 paint servers, §12 embedded content, §5.10 conditions, §5.6 use. */
function svg(body: string): Artwork {
  const head = '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">';
  return readArtwork(textSource('a.svg', `${head}${body}</svg>`), { pxPerInch: 96 });
}

const kinds = (body: string) => svg(body).leftOut.map(({ kind }) => kind);
const codes = (body: string) => svg(body).problems.map(({ code }) => code);

const LINE = '<path id="line" d="M0 0L9 9" fill="none" stroke="#0b7285"/>';
const TIP = '<marker id="tip" markerWidth="2" markerHeight="2"><path d="M0 0L2 1L0 2"/></marker>';
const HATCH = '<pattern id="hatch" width="2" height="2"><path d="M0 0L2 2" stroke="#c2255c"/></pattern>';
const PIXELS = 'data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAGQAAABQAQAAAADHcu1C';

describe('what is drawn and has no outlines here', () => {
  it.each([
    ['text', '<text y="9">Beans</text>', 'live-text'],
    ['text', '<flowRoot><flowPara>Beans</flowPara></flowRoot>', 'live-text'],
    ['marker', `${TIP}<path d="M0 0L9 9" stroke="#c2255c" fill="none" marker-end="url(#tip)"/>`, 'not-drawable'],
    ['marker', `${TIP}<rect width="9" height="9" marker-start="url(#tip)"/>`, 'not-drawable'],
    ['pattern', `${HATCH}<rect width="9" height="9" fill="url(#hatch)"/>`, 'not-drawable'],
    ['pattern', `${HATCH}<path d="M0 0h9" stroke="url(#hatch)"/>`, 'not-drawable'],
    ['document', '<foreignObject width="9" height="9"/>', 'foreign-object'],
    ['drawing', '<image width="9" height="9" href="holes.svg#a"/>', 'image-linked'],
    ['drawing', '<image width="9" height="9" href="data:image/svg+xml,%3Csvg/%3E"/>', 'not-drawable'],
    ['image', '<image width="9" height="9" href="leaf.png"/>', 'image-linked'],
    ['image', `<image width="9" height="9" href="${PIXELS}"/>`, 'image-embedded'],
    ['reference', '<use href="holes.svg#pair"/>', 'external-reference'],
    ['animation', '<rect width="9" height="9"><animate attributeName="x" to="5" dur="1s"/></rect>', 'active-content'],
    ['animation', `${LINE}<set href="#line" attributeName="d" to="M0 0h99"/>`, 'active-content'],
    ['animation', `<g><animateTransform attributeName="transform"/>${LINE}</g>`, 'active-content'],
    ['animation', '<style>rect { animation: sway 2s }</style><rect width="9" height="9"/>', 'active-content'],
  ])('%s: %s', (kind, body, code) => {
    expect(kinds(body)).toEqual([kind]);
    expect(codes(body)).toContain(code);
  });

  it('markers are drawn on a line without a stroke, which itself is not', () => {
    const artwork = svg(`${TIP}<path d="M0 0L9 9" stroke="none" fill="none" marker-mid="url(#tip)"/>`);
    expect(artwork.leftOut.map(({ kind }) => kind)).toEqual(['marker', 'hidden']);
    expect(artwork.problems.map(({ code }) => code)).toEqual(['not-drawable', 'hidden']);
  });

  it.each([
    [
      'an invisible line has no markers',
      `${TIP}<g visibility="hidden"><path d="M0 0L9 9" marker-end="url(#tip)"/></g>`,
    ],
    ['a marker of no size draws nothing', `${TIP.replace('"2"', '"0"')}<path d="M0 0L9 9" marker-end="url(#tip)"/>`],
    ['nor does one of less', `${TIP.replace('"2"', '"-2"')}<path d="M0 0L9 9" marker-end="url(#tip)"/>`],
    ['an empty marker draws nothing', '<marker id="tip"/><path d="M0 0L9 9" stroke="#c2255c" marker-end="url(#tip)"/>'],
  ])('%s', (_, body) => {
    expect(kinds(body)).not.toContain('marker');
  });

  it('a gradient is but a paint: nothing is left out', () => {
    expect(kinds('<linearGradient id="l"/><rect width="9" height="9" fill="url(#l)" stroke="url(#l)"/>')).toEqual([]);
  });

  it('an animation that names another element leaves its own parent alone', () => {
    const artwork = svg(`${LINE}<g id="other"><rect width="9" height="9"/><animate href="#line"/></g>`);
    expect(artwork.leftOut.map(({ kind, id }) => [kind, id])).toEqual([['animation', 'line']]);
  });

  it('animation-name is no presentation attribute, and none is no animation', () => {
    expect(kinds('<rect width="9" height="9" animation-name="sway"/>')).toEqual([]);
    expect(kinds('<rect width="9" height="9" style="animation: none"/>')).toEqual([]);
  });
});

describe('what cannot be seen', () => {
  it.each([
    ['display', `<g display="none">${LINE}</g>`],
    ['opacity', `<g opacity="0">${LINE}</g>`],
    ['visibility', `<g visibility="hidden">${LINE}</g>`],
    ['another language', `<g systemLanguage="cy">${LINE}</g>`],
    ['a switch of which no branch holds', `<switch><g systemLanguage="cy">${LINE}</g></switch>`],
    [
      'a clip path',
      `<clipPath id="c"><rect x="50" width="5" height="5"/></clipPath><g clip-path="url(#c)">${LINE}</g>`,
    ],
    ['a copy of a hidden line', `<defs>${LINE}</defs><use href="#line" display="none"/>`],
    ['a symbol', `<symbol id="s">${LINE}</symbol><g display="none"><use href="#s"/></g>`],
  ])('by %s is left out, and said', (_, body) => {
    const artwork = svg(body);
    expect(artwork.outlines).toEqual([]);
    expect(artwork.problems).toMatchObject([{ code: 'hidden' }]);
    // As the line would be selected if it were drawn.
    expect(artwork.leftOut).toMatchObject([{ kind: 'hidden', id: 'line', stroke: '#0b7285', fill: null }]);
  });

  it('is selected by the layers around it', () => {
    const [one] = svg(`<g id="drafts" display="none"><g id="old">${LINE}</g></g>`).leftOut;
    expect(one?.layers).toEqual(['old', 'drafts']);
  });

  it('is left out in part where a clip path cuts it', () => {
    const artwork = svg(`<clipPath id="c"><rect width="5" height="5"/></clipPath><g clip-path="url(#c)">${LINE}</g>`);
    expect(artwork.outlines).toHaveLength(1);
    expect(artwork.leftOut).toMatchObject([{ kind: 'hidden', id: 'line' }]);
  });

  it('is kept whole where the shape of the clip path is not known', () => {
    const body = `<clipPath id="c"><text>x</text></clipPath><g clip-path="url(#c)">${LINE}</g>`;
    expect(svg(body).outlines).toHaveLength(1);
    expect(kinds(body)).toEqual([]);
  });

  it('takes the branch of a switch that holds, and says nothing of the others', () => {
    const artwork = svg(`<switch><g systemLanguage="cy">${LINE}</g><g systemLanguage="en">${LINE}</g></switch>`);
    expect(artwork.outlines).toHaveLength(1);
    expect([artwork.leftOut, artwork.problems]).toEqual([[], []]);
  });

  it('has its faults left alone', () => {
    const body = '<g display="none"><path d="M0 0Q"/><use href="#nothing"/><use id="u" href="#u"/><svg width="0"/></g>';
    expect(svg(body).problems.map(({ code }) => code)).toEqual(['hidden']);
  });

  it('counts against the elements that copies may bring in', () => {
    let defs = '<rect id="u0" width="1" height="1"/>';
    for (let i = 1; i <= 6; i++) defs += `<g id="u${i}">${`<use href="#u${i - 1}"/>`.repeat(10)}</g>`;
    const artwork = svg(`<defs>${defs}</defs><use href="#u6" display="none"/>`);
    expect(artwork.problems.map(({ code }) => code)).toEqual(['hidden', 'too-many-elements']);
    expect(artwork.analysed).toBe(false);
  });
});

describe('a file without outlines', () => {
  it('tells what it holds instead, the most frequent first', () => {
    const { contents } = svg('<metadata/><defs><rect/><rect/></defs><x:view xmlns:x="http://example.org/x"/>');
    expect(contents).toEqual([
      { name: 'rect', count: 2 },
      { name: 'metadata', count: 1 },
      { name: 'defs', count: 1 },
      { name: 'x:view', count: 1 },
    ]);
    expect(svg(LINE).contents).toEqual([]);
  });
});
