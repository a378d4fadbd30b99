import { describe, expect, it } from 'vitest';
import type { Artwork } from '../../src/model/artwork.ts';
import { textSource } from '../../src/source/source.ts';
import { readArtwork } from '../../src/svg/read.ts';
import { parseColour } from '../../src/svg/style/colour.ts';

function svg(body: string): Artwork {
  const head = '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">';
  return readArtwork(textSource('a.svg', `${head}\n${body}</svg>`), { pxPerInch: 96 });
}

// CSS Color 4: the names of §6.1, the forms of §5–§10; hex values worked by hand or from the name table.
describe('colours', () => {
  it.each([
    ['RebeccaPurple', '#663399'],
    ['#0b7', '#00bb77'],
    ['#0B7285', '#0b7285'],
    ['rgb(11, 114, 133)', '#0b7285'],
    ['rgb(0 128 255 / 40%)', '#0080ff'],
    ['rgb(none 255 0)', '#00ff00'],
    ['hsl(0.5turn 100% 50%)', '#00ffff'],
    ['hwb(120 0% 50%)', '#008000'],
    ['color(srgb 1 0.5 0)', '#ff8000'],
    ['color(srgb-linear 0 1 0)', '#00ff00'],
    ['oklch(0 0 0)', '#000000'],
    ['oklch(1 0 none)', '#ffffff'],
    ['lab(100% 0 0)', '#ffffff'],
    ['CanvasText', '#000000'],
  ])('%s is %s', (text, hex) => {
    expect(parseColour(text)?.hex).toBe(hex);
  });

  it.each(['', '#12', 'rgb(1,2)', 'color(display-p3 1 0 0)', 'reddish', 'url(#a)', '('.repeat(1000)])(
    '%j is none',
    (text) => {
      expect(parseColour(text)).toBeNull();
    },
  );

  it('transparent paints nothing', () => {
    expect(svg('<path d="M0 0h1" fill="none" stroke="transparent"/>').elements).toEqual([]);
  });
});

describe('style sheets', () => {
  it('say which rule cannot be taken, and the rest counts', () => {
    const artwork = svg(
      '<style>rect::hover( { x } path { stroke: red } path:unheard-of { stroke: blue } @supports (x: y) { path { stroke: blue } }</style><path d="M0 0h1"/>',
    );
    expect(artwork.problems.some((problem) => problem.code === 'bad-style')).toBe(true);
  });

  it('point at the line of the sheet', () => {
    const artwork = svg('<style><![CDATA[\n  path { fill: none }\n  path:unheard-of { stroke: blue }\n]]></style>');
    expect(artwork.problems).toMatchObject([
      { code: 'bad-style', args: { text: 'path:unheard-of' }, place: { line: 4, column: 3 } },
    ]);
  });

  it('quote a piece that cannot be parsed, once, from where it begins', () => {
    const artwork = svg(
      '<style>path { stroke: red }\n path[ { fill: none }</style><path d="M0 0h1" style="fill: none; stroke"/>',
    );
    expect(artwork.problems).toMatchObject([
      { code: 'bad-style', args: { text: 'path[ { fill: none }' }, place: { line: 3, column: 2 } },
      { code: 'bad-style', args: { text: 'stroke' } },
    ]);
    expect(artwork.problems.map((problem) => problem.more ?? 0)).toEqual([0, 0]);
  });

  it('a pseudo-class that nothing can be in does not match', () => {
    const artwork = svg('<style>path { stroke: red } path:hover { stroke: blue }</style><path d="M0 0h1"/>');
    expect(artwork.elements[0]?.stroke).toBe('#ff0000');
  });

  it('variables and motion properties are reported, not guessed', () => {
    const artwork = svg('<path d="M0 0h1" stroke="red" style="stroke: var(--cut); rotate: 30deg"/>');
    expect(artwork.elements[0]?.stroke).toBe('#ff0000');
    expect(artwork.problems.map((problem) => problem.args['text'])).toEqual(['stroke: var(--cut)', 'rotate: 30deg']);
  });

  it('a value that the property does not take leaves the one below', () => {
    const artwork = svg('<path d="M0 0h1" stroke="red" style="stroke: 12px"/>');
    expect(artwork.elements[0]?.stroke).toBe('#ff0000');
    expect(artwork.problems).toMatchObject([{ code: 'bad-value', args: { attribute: 'stroke', text: '12px' } }]);
  });

  it('selectors nested without end are given up with a problem', () => {
    const artwork = svg(`<style>${':not('.repeat(50_000)}</style><path d="M0 0h1"/>`);
    expect(artwork.problems[0]?.code).toBe('bad-style');
    expect(artwork.elements).toHaveLength(1);
  });

  it('a long selector is matched or given up, never fatal', () => {
    const artwork = svg(`<style>${'g '.repeat(20_000)} path { stroke: red }</style><g><path d="M0 0h1"/></g>`);
    expect(artwork.elements[0]?.stroke).toBeNull();
  });
});

describe('transforms that cannot be read leave the element where it is', () => {
  it.each(['rotate(10', 'rotate(1,2)', 'spin(3)', 'scale(1,)', 'matrix(1 2 3)', 'translate(1e999)'])(
    '%s',
    (transform) => {
      const artwork = svg(`<rect x="1" width="5" height="5" transform="${transform}"/>`);
      expect(artwork.problems).toMatchObject([
        { code: 'bad-transform', args: { text: transform }, place: { line: 2 } },
      ]);
      expect(artwork.elements[0]?.box?.minX).toBe(1);
    },
  );
});
