// Waivers in comments: where the mark counts, what is read of it, and where it says nothing.
import { describe, expect, it } from 'vitest';
import { inlineWaivers } from '../../../src/facts/input/inline-waivers.ts';
import type { CommentSyntax } from '../../../src/model/reader.ts';
import { READERS } from '../../../src/readers.ts';
import { type Source, SourceUnreadable, textSource } from '../../../src/source/source.ts';

const gcode = READERS.find(({ makes }) => makes === 'toolpath')!;
const svg = READERS.find(({ makes }) => makes === 'artwork')!;
const inProgram = (text: string) => inlineWaivers({ source: textSource('a.gcode', text), reader: gcode });
const inDrawing = (text: string) => inlineWaivers({ source: textSource('a.svg', text), reader: svg });
const withComments = (text: string, comments: readonly CommentSyntax[]) =>
  inlineWaivers({ source: textSource('a.x', text), reader: { ...gcode, comments: [...comments] } });

describe('a waiver in a comment', () => {
  it('has its rule, its reason and its place, and is for its line', () => {
    expect(inProgram('G21\nG1 X5 ; kerflint-waive cut/marginal: proven on scrap  \n')).toEqual([
      {
        rule: 'cut/marginal',
        reason: 'proven on scrap',
        scope: 'line',
        location: { file: 'a.gcode', line: 2, column: 9, endLine: 2, endColumn: 53 },
      },
    ]);
  });

  it('is for the whole file where it says so', () => {
    expect(inProgram(';kerflint-waive-file order/open-contour: gates')).toMatchObject([
      { rule: 'order/open-contour', reason: 'gates', scope: 'file', location: { line: 1, column: 2 } },
    ]);
  });

  it('may lack its reason, or its rule', () => {
    for (const text of [
      ';kerflint-waive cut/marginal',
      ';kerflint-waive cut/marginal:',
      ';kerflint-waive cut/marginal :  ',
    ]) {
      expect(inProgram(text)).toMatchObject([{ rule: 'cut/marginal', reason: null }]);
    }
    expect(inProgram(';kerflint-waive')).toMatchObject([{ rule: '', reason: null }]);
    expect(inProgram(';kerflint-waive: why not')).toMatchObject([{ rule: '', reason: 'why not' }]);
  });

  it('keeps colons in its reason, and is shown cut where it is very long', () => {
    expect(inProgram(';kerflint-waive a/b: see note: shelf 3')).toMatchObject([{ reason: 'see note: shelf 3' }]);
    const [long] = inProgram(`;kerflint-waive ${'r'.repeat(101)}: ${'w'.repeat(401)}`);
    expect([long!.rule.length, long!.reason!.length]).toEqual([100, 400]);
  });

  it('is none where the word goes on', () => {
    expect(inProgram(';kerflint-waiver a/b: no')).toEqual([]);
    expect(inProgram(';kerflint-waive-files a/b: no')).toEqual([]);
  });

  it('is none outside a comment', () => {
    expect(inProgram('G1 X5 kerflint-waive a/b: no\n')).toEqual([]);
    expect(inDrawing('<text>kerflint-waive a/b: no</text>\n')).toEqual([]);
  });

  it('is read up to where its comment closes', () => {
    expect(inProgram('G1 X5 (kerflint-waive a/b: thin) X6')).toMatchObject([{ reason: 'thin' }]);
    expect(inDrawing('<g/><!-- kerflint-waive a/b: thin --><g/>')).toMatchObject([
      { rule: 'a/b', reason: 'thin', location: { column: 10, endColumn: 34 } },
    ]);
  });

  it('is none behind a comment that closed before it', () => {
    expect(inDrawing('<!-- rim --><text>kerflint-waive a/b: no</text>')).toEqual([]);
    expect(inDrawing('<!-- rim --><text>kerflint-waive a/b: no</text><!-- end -->')).toEqual([]);
    expect(inDrawing('<!-- rim --><!-- kerflint-waive a/b: yes -->')).toMatchObject([{ reason: 'yes' }]);
  });

  it('is none where its comment does not close on the line, unless the format lets it stay open', () => {
    expect(inDrawing('<!-- kerflint-waive a/b: no')).toEqual([]);
    const open = [{ opens: '[', closes: ']' }];
    expect(withComments('[kerflint-waive a/b: x', open)).toEqual([]);
    expect(withComments('[kerflint-waive a/b: x', [{ ...open[0]!, mayStayOpen: true }])).toMatchObject([
      { reason: 'x' },
    ]);
    expect(withComments('[kerflint-waive a/b: x] y', [{ ...open[0]!, mayStayOpen: true }])).toMatchObject([
      { reason: 'x' },
    ]);
    expect(withComments('[a] kerflint-waive a/b: x', [{ ...open[0]!, mayStayOpen: true }])).toEqual([]);
  });

  it('is looked for in each way that the format has of commenting', () => {
    const two: CommentSyntax[] = [
      { opens: '[', closes: ']' },
      { opens: '#', closes: null },
    ];
    expect(withComments('[a] # kerflint-waive a/b: x', two)).toMatchObject([{ reason: 'x' }]);
    expect(withComments('# kerflint-waive a/b: x [', two)).toMatchObject([{ reason: 'x [' }]);
  });

  it('counts a thousand times in a file, and no more', () => {
    expect(inProgram(';kerflint-waive a/b: x\n'.repeat(1001))).toHaveLength(1000);
  });
});

describe('a file whose bytes cannot be had', () => {
  const failing = (error: Error): Source => ({
    name: 'a.gcode',
    size: 1,
    chunks: () => {
      throw error;
    },
  });

  it('has no waivers; that it cannot be read is told by its reader', () => {
    expect(inlineWaivers({ source: failing(new SourceUnreadable('gone')), reader: gcode })).toEqual([]);
  });

  it('hides no other fault', () => {
    expect(() => inlineWaivers({ source: failing(new RangeError('a fault')), reader: gcode })).toThrow('a fault');
  });
});
