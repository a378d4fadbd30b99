import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../src/cli/registered-rules.ts';
import { docsPath } from '../../src/findings/reporter.ts';
import { READERS } from '../../src/readers.ts';
import { findRule } from '../../src/rules/index.ts';
import { retired } from '../../src/rules/retired.ts';
import type { Rule } from '../../src/rules/rule.ts';
import { ruleIndexPage, rulePage } from '../../src/rules/rule-page.ts';
import { cases } from './cases/index.ts';

const AREAS = [
  'input',
  'material',
  'power',
  'speed',
  'focus',
  'cut',
  'toolpath',
  'artwork',
  'match',
  'waste',
  'waiver',
];
/** Words of pages on what can burn, crash or tip. */
const BURNS_OR_CRASHES =
  /\b(?:burn(?:s|t|ing)?|alight|on fire|catch(?:es)? fire|flares?|flames?|char(?:s|red|ring)?|tips?|tipped|crash(?:es)?|collision|end stop|jams)\b/i;
/** Rules about what can hurt someone. Written out here, so that leaving a caution out does not go unseen. */
const HAZARDS = [
  'artwork/duplicate-line',
  'artwork/feature-below-kerf',
  'artwork/off-sheet',
  'artwork/self-crossing',
  'artwork/stray',
  'artwork/web-too-thin',
  'cut/below-clean-speed',
  'cut/marginal',
  'cut/out-of-reach',
  'cut/overburn',
  'cut/proposed',
  'cut/short-of-through',
  'cut/too-many-passes',
  'focus/outside-sheet',
  'focus/sheet-not-flat',
  'match/extra-in-toolpath',
  'match/settings-differ',
  'match/unclaimed-strokes',
  'material/hazardous',
  'material/hidden-glue',
  'material/mirror-unmasked',
  'material/not-cut-by-source',
  'material/transparent-to-source',
  'material/unknown',
  'power/above-source-limit',
  'power/scale-mismatch',
  'power/uneven-bed',
  'speed/above-machine',
  'speed/missing-feed',
  'speed/never-reached',
  'speed/units-suspect',
  'toolpath/after-end',
  'toolpath/air-off',
  'toolpath/arc-mismatch',
  'toolpath/beam-left-on',
  'toolpath/beam-on-rapid',
  'toolpath/dwell-burn',
  'toolpath/heat-crowding',
  'toolpath/inner-after-outer',
  'toolpath/modal-conflict',
  'toolpath/no-end',
  'toolpath/not-analysed',
  'toolpath/off-bed',
  'toolpath/off-sheet',
  'toolpath/raster-peak-energy',
  'toolpath/raster-pitch',
  'toolpath/tip-up',
  'toolpath/units-suspect',
  'toolpath/wrong-kind',
  'toolpath/z-collision',
];
const root = new URL('../../', import.meta.url);
const FORMATS = READERS.map(({ name }) => name);

describe('the list of rules', () => {
  const ids = RULES.map((rule) => rule.id);

  it('is sorted and names each rule once', () => {
    expect(ids).toEqual([...new Set(ids)].sort());
  });

  it('keeps each rule in the file that its id names', async () => {
    for (const rule of RULES) {
      const file = (await import(new URL(`src/rules/${rule.id}.ts`, root).href)) as {
        default: Rule | ((readers: typeof READERS) => Rule);
      };
      // A rule that is made for the readers is another object each time.
      if (typeof file.default === 'function') expect(file.default(READERS).id).toBe(rule.id);
      else expect(file.default).toBe(rule);
    }
  });

  it('never uses the id of a retired rule, and retired ids lead to rules', () => {
    for (const [id, successor] of Object.entries(retired)) {
      expect(ids).not.toContain(id);
      if (successor !== null) expect(ids).toContain(successor);
    }
  });

  it('has cases for rules that exist only', () => {
    for (const one of cases) expect(ids).toContain(one.rule);
  });

  it('is written down in docs/rules.md', () => {
    expect(readFileSync(new URL('docs/rules.md', root), 'utf8')).toBe(ruleIndexPage(RULES));
  });
});

describe.each(RULES.map((rule) => [rule.id, rule] as const))('%s', (id, rule) => {
  it('has an id of a known area', () => {
    expect(id).toMatch(/^[a-z]+\/[a-z]+(-[a-z]+)*$/);
    expect(AREAS).toContain(id.slice(0, id.indexOf('/')));
  });

  it('has an up-to-date page', () => {
    expect(readFileSync(new URL(docsPath(id), root), 'utf8')).toBe(rulePage(rule, FORMATS));
  });

  it('says what, why, how to put it right and where its limits come from', () => {
    expect(rule.summary).toMatch(/^[A-Z].*\.$/);
    expect(rule.why.length).toBeGreaterThan(60);
    expect(rule.remedy.length).toBeGreaterThan(40);
    expect(rule.sources.length).toBeGreaterThan(0);
    expect(rule.since).toMatch(/^\d+\.\d+\.\d+$/);
    expect(rule.reads.length).toBeGreaterThan(0);
    expect(Object.keys(rule.messages).length).toBeGreaterThan(0);
  });

  it('gives its options defaults of their type, within their range', () => {
    for (const [name, option] of Object.entries(rule.options)) {
      expect(name).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
      expect(typeof option.default).toBe(option.type);
      if (typeof option.default === 'number') {
        expect(option.default).toBeGreaterThanOrEqual(option.minimum ?? Number.NEGATIVE_INFINITY);
        expect(option.default).toBeLessThanOrEqual(option.maximum ?? Number.POSITIVE_INFINITY);
      }
      expect(option.description).toMatch(/\.$/);
    }
  });

  it('never says that something is safe', () => {
    // The data sheet's name and cautions are the only places for the word's relatives.
    const text = rulePage(rule, FORMATS)
      .replaceAll(/safety data sheet/gi, '')
      .replaceAll(/laser-cutter safety pages/gi, '')
      // The key of a machine's profile for codes that leave beam and motion alone.
      .replaceAll(/`controller\.harmless`|`harmless: \{\{? [^`]*`/g, '');
    expect(text).not.toMatch(/\bsafe(ly|ty)?\b/i);
    expect(text).not.toMatch(/\b(harmless|no risk|without danger)\b/i);
  });

  it('has a page that reads the same as Markdown and as text', () => {
    const prose = rulePage(rule, FORMATS)
      .replaceAll(/```[\s\S]*?```|`[^`\n]*`/g, '')
      .replace('**Caution.**', '');
    expect(prose).not.toMatch(/[*<`]|\b_|_\b/);
  });

  it('carries a caution where its page speaks of what burns, crashes or tips', () => {
    if (BURNS_OR_CRASHES.test(`${rule.summary} ${rule.why} ${rule.remedy}`)) expect(rule.caution).toBeDefined();
  });

  it('carries a caution where someone can get hurt', () => {
    expect(rule.caution !== undefined).toBe(HAZARDS.includes(id));
    if (rule.caution !== undefined) {
      expect(rule.caution).toMatch(/manual/);
      expect(rule.caution).toMatch(/No finding here means only/);
    }
  });
});

describe('looking up a rule', () => {
  it('finds it by its id, however it is written', () => {
    expect(findRule(RULES, ' Cut/Marginal ')).toMatchObject({ kind: 'rule', rule: { id: 'cut/marginal' } });
  });

  it.each([
    ['cut/marginl', 'cut/marginal'],
    ['marginal', 'cut/marginal'],
    ['dwell burn', 'toolpath/dwell-burn'],
    ['mirror', 'material/mirror-unmasked'],
  ])('suggests for %s', (written, meant) => {
    const found = findRule(RULES, written);
    expect(found.kind).toBe('unknown');
    expect(found.kind === 'unknown' && found.suggestions).toContain(meant);
  });

  it('suggests nothing for what is like no rule', () => {
    expect(findRule(RULES, 'zzzzzzzzzzzzzzzz')).toEqual({ kind: 'unknown', id: 'zzzzzzzzzzzzzzzz', suggestions: [] });
  });

  it('is not fooled by names that every object has', () => {
    for (const id of ['__proto__', 'constructor', 'toString']) expect(findRule(RULES, id).kind).toBe('unknown');
  });
});
