import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { demo, folder, kerflint, REPOSITORY } from './harness.ts';

const read = (...path: string[]) => readFileSync(join(...path), 'utf8');

describe('check --format reply=<folder>', () => {
  it('writes a letter for each job of the demo and an index, beside the usual report', async () => {
    const cwd = demo();
    const told = await kerflint(cwd, ['check', '.', '--format', 'reply=answers']);
    expect(told.code).toBe(1);
    expect(told.stdout).toContain('Do not run');
    expect(readdirSync(join(cwd, 'answers')).sort()).toEqual([
      'gate-sign.md',
      'gate-sign.txt',
      'index.csv',
      'plant-labels.md',
      'plant-labels.txt',
      'seed-tray-divider.md',
      'seed-tray-divider.txt',
      'weather-vane-hub.md',
      'weather-vane-hub.txt',
    ]);
    expect(read(cwd, 'answers/index.csv').split('\r\n')).toHaveLength(6);
  });

  it('writes the letter that the documentation shows', async () => {
    const cwd = demo();
    await kerflint(cwd, ['check', '.', '--format', 'reply=answers']);
    expect(read(REPOSITORY, 'docs/reply.md')).toContain(`\`\`\`text\n${read(cwd, 'answers/plant-labels.txt')}\`\`\``);
  });

  it('tells nothing of the shop: no machine, lens, watts, speed, price or probability', async () => {
    const cwd = demo();
    await kerflint(cwd, ['check', '.', '--format', 'reply=answers']);
    for (const name of readdirSync(join(cwd, 'answers')).filter((one) => one !== 'index.csv'))
      expect(read(cwd, 'answers', name)).not.toMatch(/shed|\dw\b|\bin lens|EUR|€|\d %|mm\/s|\d W\b/i);
  });

  it('draws where the problem is', async () => {
    const svg =
      '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">\n' +
      '<rect x="5" y="5" width="90" height="50" fill="none" stroke="#4a7c59"/>\n' +
      '<rect x="20" y="20" width="10" height="10" fill="none" stroke="#4a7c59"/>\n' +
      '<rect x="30.1" y="20" width="10" height="10" fill="none" stroke="#4a7c59"/></svg>\n';
    const cwd = demo();
    mkdirSync(join(cwd, 'inbox'));
    writeFileSync(join(cwd, 'inbox/tag.svg'), svg);
    await kerflint(cwd, [
      ...['check', 'inbox/tag.svg', '--machine', 'shed-60w', '--material', 'birch-plywood', '--thickness', '3 mm'],
      ...['--format', 'reply=answers'],
    ]);
    expect(read(cwd, 'answers/inbox-tag.txt')).toMatch(/no\. 1 in inbox-tag-places\.svg/);
    expect(read(cwd, 'answers/inbox-tag-places.svg')).toContain('>1</text>');
  });

  it('takes language and sentences from trusted settings only', async () => {
    const cwd = demo();
    const inCheckout = read(cwd, '.kerflint.yaml');
    writeFileSync(
      join(cwd, '.kerflint.yaml'),
      `${inCheckout}\nreply:\n  language: de\n  templates:\n    closing: Bis bald\n`,
    );
    await kerflint(cwd, ['check', '.', '--format', 'reply=trusted']);
    expect(read(cwd, 'trusted/plant-labels.md')).toContain('Bis bald');
    await kerflint(cwd, ['check', '.', '--untrusted', '--format', 'reply=untrusted']);
    expect(read(cwd, 'untrusted/plant-labels.md')).toContain('Kind regards');
  });

  it.each([
    ['a template that there is not', 'templates: { farewell: Bye }', 'farewell'],
    ['a field that there is not', 'templates: { closing: "Bye {name}" }', '"name" is no field of this text'],
    ['a brace that stands alone', 'templates: { closing: "Bye {" }', 'written twice'],
    ['a language that there is not', 'language: xx', 'write en or de'],
  ])('ends before anything is judged for %s', async (_, setting, words) => {
    const cwd = demo();
    writeFileSync(join(cwd, '.kerflint.yaml'), `${read(cwd, '.kerflint.yaml')}\nreply: { ${setting} }\n`);
    const told = await kerflint(cwd, ['check', '.', '--format', 'reply=answers']);
    expect(told.code).toBe(2);
    expect(told.stderr).toContain(words);
    expect(existsSync(join(cwd, 'answers'))).toBe(false);
  });

  it.each([
    ['a folder that holds something', ['--format', 'reply=.'], 'holds files'],
    ['a file', ['--format', 'reply=gate-sign.svg'], 'is no folder'],
    ['no folder', ['--format', 'reply'], 'names no folder'],
    ['two folders', ['--format', 'reply=a', '--format', 'reply=b'], 'given twice'],
    ['watching', ['--format', 'reply=a', '--watch'], '--watch'],
  ])('refuses %s with exit code 2 and writes nothing', async (_, argv, words) => {
    const cwd = demo();
    const before = readdirSync(cwd);
    const told = await kerflint(cwd, ['check', '.', ...argv]);
    expect([told.code, told.stderr]).toEqual([2, expect.stringContaining(words)]);
    expect(readdirSync(cwd)).toEqual(before);
  });

  it('goes into an empty folder that is there', async () => {
    const cwd = demo();
    mkdirSync(join(cwd, 'answers'));
    await kerflint(cwd, ['check', '.', '--format', 'reply=answers']);
    expect(readdirSync(join(cwd, 'answers'))).toContain('index.csv');
    expect(readdirSync(cwd).filter((name) => name.startsWith('.answers'))).toEqual([]);
  });

  it('lists what was not read with what to ask for', async () => {
    const cwd = folder({
      'inbox/order.pdf': '%PDF-1.4',
      'inbox/cut.gcode': 'G21\nG1 X10 F600\n',
      'inbox/tag.svg': '<svg',
    });
    await kerflint(cwd, ['check', 'inbox', '--format', 'reply=answers']);
    const index = read(cwd, 'answers/index.csv');
    expect(index).toContain('cut.gcode');
    expect(index).toContain('The drawing as SVG, and the material and thickness.');
    expect(index).toContain('order.pdf');
  });

  it('asks for a file anew that is not written as its format asks, once however often, and lists it as not read', async () => {
    const cwd = folder({
      'inbox/tag.svg': '<svg',
      'inbox/loop.svg':
        '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm"><use id="a" href="#a"/><path d="M0 0H9V9 K7"/></svg>',
    });
    await kerflint(cwd, [
      ...['check', 'inbox', '--machine', 'bench-60w', '--material', 'birch-plywood', '--thickness', '3 mm'],
      ...['--format', 'reply=answers'],
    ]);
    const said = 'The file is not written as its kind of file asks';
    expect(read(cwd, 'answers/tag.txt')).toContain(said);
    expect(read(cwd, 'answers/tag.txt')).not.toContain('the drawing: size');
    expect(read(cwd, 'answers/loop.txt').split(said)).toHaveLength(2);
    const [tag, loop] = ['tag', 'loop'].map(
      (name) =>
        read(cwd, 'answers/index.csv')
          .split('\r\n')
          .find((line) => line.startsWith(`${name}.svg`))!,
    );
    expect(tag).toContain('The drawing as SVG, with text and images turned into paths');
    expect(loop).toMatch(/^loop\.svg,change,/);
    expect(loop).not.toContain('The drawing as SVG');
  });
});
