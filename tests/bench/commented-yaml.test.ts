import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { commentedMap, oneLine, remarked, yamlText } from '../../src/bench/commented-yaml.ts';
import { readYaml } from '../../src/job/yaml/yaml-file.ts';
import { textSource } from '../../src/source/source.ts';

/** The data of a text, by the reader that reads every file of ours. */
function dataOf(text: string): unknown {
  const { tree, problems } = readYaml(textSource('a.yaml', text), 1_000_000);
  expect(problems).toEqual([]);
  return JSON.parse(JSON.stringify(tree));
}

describe('a commented YAML file', () => {
  it('has its remarks where they belong, and places to fill in', () => {
    const text = yamlText([
      'what this is',
      ['kerflint', 1],
      'lens: # the one that is fitted',
      ['thickness', remarked('6.0 mm', 'measure it')],
      ['at', oneLine({ x: '2 mm', y: '3 mm' })],
      ['tasks', [commentedMap([['name', 'rim'], ['power', remarked(null, 'fill in')], 'passes: 1'])]],
    ]);
    expect(text).toBe(`# what this is
kerflint: 1
# lens: # the one that is fitted
thickness: 6.0 mm # measure it
at: { x: 2 mm, y: 3 mm }
tasks:
  - name: rim
    power: # fill in
    # passes: 1
`);
    expect(dataOf(text)).toEqual({
      kerflint: 1,
      thickness: '6.0 mm',
      at: { x: '2 mm', y: '3 mm' },
      tasks: [{ name: 'rim', power: null }],
    });
  });

  it('is read back as it was meant, whatever names and remarks hold', () => {
    const nasty = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 40 }),
      fc.string({ unit: fc.constantFrom(...'#:-?{}[],&*!|>%@`"\'\\ \n\t~ab0') }),
      fc.constantFrom('yes', 'no', 'null', '~', 'true', '1e3', '0x1F', '2026-11-25', '- a', '# b', 'a: b', ' x ', ''),
    );
    fc.assert(
      fc.property(nasty, nasty, nasty, (name, layer, note) => {
        const text = yamlText([
          note,
          ['name', remarked(name, note)],
          ['strokes', oneLine({ layer })],
          ['list', [commentedMap([note, ['inner', layer]])]],
          note,
        ]);
        expect(dataOf(text)).toEqual({ name, strokes: { layer }, list: [{ inner: layer }] });
      }),
    );
  });
});
