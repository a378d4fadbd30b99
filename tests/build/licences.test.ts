// Each bundle carries the licences of what is in it.
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { licencesOf, packagesIn } from '../../build/licences.mjs';
import { folder, REPOSITORY } from '../cli/harness.ts';

const built = (name: string) => {
  const path = join(REPOSITORY, 'dist', name);
  expect(existsSync(path), `${name} is there: run "npm run build" first`).toBe(true);
  return readFileSync(path, 'utf8');
};
const { dependencies } = JSON.parse(readFileSync(join(REPOSITORY, 'package.json'), 'utf8')) as {
  dependencies: Record<string, string>;
};
const HEADING = (name: string) => `\n${name} ${dependencies[name]} (`;

describe('the licences of what is shipped', () => {
  it.each(Object.keys(dependencies).filter((name) => name !== '@actions/core'))('of the command line: %s', (name) => {
    expect(built('kerflint.licences.txt')).toContain(HEADING(name));
  });

  it('of the action, the core and the page: what those hold', () => {
    for (const name of ['@actions/core', 'saxes', 'svg-parser', 'gcode-parser', 'valibot', 'yaml'])
      expect(built('action.licences.txt')).toContain(HEADING(name));
    expect(built('core.browser.licences.txt')).toContain(HEADING('flatbush'));
    for (const name of ['saxes', 'svg-parser', 'gcode-parser', 'valibot', 'yaml', 'd3-scale'])
      expect(built('page.html')).toContain(HEADING(name));
    expect(built('page.html')).not.toContain(HEADING('commander'));
  });

  it('are whole texts: an ISC or MIT licence grants use and disclaims warranty', () => {
    for (const { license, text } of licencesOf(REPOSITORY, [
      'node_modules/saxes',
      'node_modules/yaml',
      'node_modules/svg-parser',
    ])) {
      expect(text, license).toMatch(/permission (to use|is hereby granted)/i);
      expect(text, license).toMatch(/warrant/i);
      expect(text, license).toMatch(/copyright/i);
    }
  });
});

describe('what a bundle holds', () => {
  it('is told by the outputs, scoped packages and packages inside packages too; what fell away is not in it', () => {
    const inputs = {
      'src/a.ts': { bytesInOutput: 5 },
      'node_modules/@scope/one/lib/x.js': { bytesInOutput: 5 },
      'node_modules/two/node_modules/three/x.js': { bytesInOutput: 5 },
      'empty:node_modules/five/x.js': { bytesInOutput: 1 },
      'node_modules/four/x.js': { bytesInOutput: 0 },
    };
    expect(packagesIn({ outputs: { 'dist/a.js': { inputs } } })).toEqual([
      'node_modules/@scope/one',
      'node_modules/five',
      'node_modules/two/node_modules/three',
    ]);
  });

  it('cannot be shipped without a licence text', () => {
    const root = folder({ 'node_modules/mute/package.json': '{"name":"mute","version":"1.0.0"}' });
    expect(() => licencesOf(root, ['node_modules/mute'])).toThrow('mute has no licence text');
  });
});
