import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../src/cli/registered-rules.ts';
import type { JobPictures } from '../../src/facts/drawing/drawing-model.ts';
import type { Finding } from '../../src/findings/finding.ts';
import { argumentNames } from '../../src/findings/message.ts';
import type { RunResult } from '../../src/findings/result.ts';
import { REPLY_FIELDS } from '../../src/job/settings/reply-settings.ts';
import { FileNames } from '../../src/report/reply/file-names.ts';
import { LANGUAGES } from '../../src/report/reply/languages/index.ts';
import { placePicture } from '../../src/report/reply/place-picture.ts';
import { openReply, type ReplyFile } from '../../src/report/reply/reply.ts';
import { finding, job, run } from '../findings/results.ts';

function reply(result: RunResult, settings: Partial<Parameters<typeof openReply>[0]> = {}): ReplyFile[] {
  const writer = openReply({ language: 'en', templates: {}, ...settings });
  return [...result.jobs.flatMap((one) => writer.job(one, null)), ...writer.end(result)];
}
const textOf = (files: readonly ReplyFile[], name: string) => files.find((file) => file.name === name)?.text ?? '';

const named = (name: string, findings: Finding[]) => job({ name, findings });

const webs = (change: Parameters<typeof finding>[0] = {}) =>
  finding({
    rule: 'artwork/web-too-thin',
    messageId: 'thin',
    severity: 'error',
    message: 'inner words of the shop',
    location: { file: 'inbox/sign.svg', line: 12, column: 1, endLine: 12, endColumn: 9 },
    values: { limit: '0.48', width: '0.2' },
    ...change,
  });

describe('a language', () => {
  const marked = RULES.flatMap(({ id, forCustomers = {} }) =>
    Object.entries(forCustomers).map(([message, values]) => ({ id, message, values: [...values].sort() })),
  );

  /** One sentence for whatever a rule tells customers. */
  const forAll = (rule: string, text: string) =>
    Object.fromEntries(marked.filter(({ id }) => id === rule).map(({ message }) => [message, text]));

  it.each(Object.entries(LANGUAGES))(
    '%s has a sentence for each message that is marked for customers, and no other',
    (_, { problems }) => {
      const worded = Object.entries(problems).flatMap(([id, messages]) =>
        Object.entries(typeof messages === 'string' ? forAll(id, messages) : messages).map(([message, text]) => ({
          id,
          message,
          values: argumentNames(text).sort(),
        })),
      );
      const order = (a: { id: string; message: string }, b: { id: string; message: string }) =>
        `${a.id} ${a.message}` < `${b.id} ${b.message}` ? -1 : 1;
      expect(worded.sort(order)).toEqual([...marked].sort(order));
    },
  );

  it('marks only messages that the rule has, with arguments that they name', () => {
    for (const { id, message, values } of marked) {
      const rule = RULES.find((one) => one.id === id)!;
      const template = rule.messages[message];
      expect(template, `${id} ${message}`).toBeDefined();
      expect(argumentNames(template!), `${id} ${message}`).toEqual(expect.arrayContaining(values));
    }
  });

  it.each(Object.entries(LANGUAGES))(
    '%s names no field in a template that a shop could not name',
    (_, { templates }) => {
      for (const [name, text] of Object.entries(templates))
        expect([...REPLY_FIELDS[name as keyof typeof REPLY_FIELDS]]).toEqual(
          expect.arrayContaining(argumentNames(text)),
        );
    },
  );

  it.each(Object.entries(LANGUAGES))('%s never promises that something is harmless', (_, language) => {
    expect(JSON.stringify(language)).not.toMatch(/\bsafe\b(?!ty)|harmless|unbedenklich|sicher(?!heits)|ungefährlich/i);
  });
});

describe('what a letter says', () => {
  it('what has to change, with its values and its place', () => {
    const files = reply(run([named('inbox/sign.job.yaml', [webs()])]));
    expect(textOf(files, 'inbox-sign.md')).toContain(
      '1. Between two cuts only 0.2 mm would be left, and less than 0.48 mm burns away or breaks. Please move the lines apart. (sign.svg, line 12)',
    );
  });

  it('the same in German, with a decimal comma', () => {
    const files = reply(run([named('sign', [webs()])]), { language: 'de' });
    expect(textOf(files, 'sign.txt')).toContain('nur 0,2 mm stehen');
    expect(textOf(files, 'sign.txt')).toContain('Zeile 12');
  });

  it('nothing of findings that are the shop’s own, whatever their severity', () => {
    const own = finding({
      rule: 'power/above-source-limit',
      severity: 'error',
      message: 'the tube of bench-60w is strained',
    });
    const [letter] = reply(run([named('sign', [own])]));
    expect(letter!.text).toContain('There is nothing that you need to do');
    expect(letter!.text).not.toMatch(/tube|bench|strain/);
  });

  it('nothing of what is waived, counted in the baseline, or only a note', () => {
    const set = [webs({ status: 'waived' }), webs({ status: 'baselined' }), webs({ severity: 'note' })];
    const [letter] = reply(run([named('sign', set)]));
    expect(letter!.text).toContain('We found nothing that you would have to change.');
  });

  it('the questions that only they can answer, and none that are the shop’s', () => {
    const open = (fact: string) => ({
      fact,
      what: 'whether the sheet parts',
      missing: 'nobody said',
      remedy: 'say it',
    });
    const asked = {
      ...named('sign', []),
      incomplete: ['no thickness is given'],
      verdict: 'incomplete' as const,
      unanswered: [open('thickness'), open('machine')],
    };
    const text = textOf(reply(run([asked])), 'sign.txt');
    expect(text).toContain('How thick is the sheet?');
    expect(text).not.toMatch(/machine is|lens/);
    const ours = { ...asked, unanswered: [open('machine')] };
    expect(textOf(reply(run([ours])), 'sign.txt')).toContain('has to be settled here');
  });

  it('the stack and the thickest sheet that the solver found, where the sheet is out of reach', () => {
    const out = webs({ rule: 'cut/out-of-reach', messageId: 'outOfReach', values: {} });
    const reach = {
      surest: {
        lens: '2in',
        setting: 0.85,
        powerW: 50,
        speedMmPerS: 4,
        passes: 3,
        focusMm: 0,
        focusStepMm: 0,
        throughProbability: 0.02,
      },
      proposed: null,
      limitedBy: [],
      limit: 0.9,
      thinner: { stacked: { layers: 2, layerMm: 6 }, thickestMm: 9.5 },
    };
    const cut = {
      task: 'rim',
      aim: 'through',
      lengthMm: 1,
      passes: [],
      depthMm: null,
      depthLowMm: null,
      depthHighMm: null,
      throughProbability: null,
      kerfMm: null,
      basis: null,
      line: 1,
      remedies: [],
      reach,
    };
    const files = reply(run([{ ...named('sign', [out]), cuts: [cut] }]), { language: 'de' });
    expect(textOf(files, 'sign.md')).toContain('2 Lagen desselben Materials zu 6 mm');
    expect(textOf(files, 'sign.md')).toContain('höchstens 9,5 mm dick');
    expect(textOf(files, 'sign.md')).not.toMatch(/50 W|85 %|2in/);
  });

  it('the shop’s own sentences in place of ours', () => {
    const files = reply(run([named('sign', [webs()])]), {
      templates: { greeting: 'Dear neighbour,', subject: '{job}: news' },
    });
    expect(textOf(files, 'sign.md')).toMatch(/^# sign: news\n\nDear neighbour,\n/);
  });
});

describe('what strangers wrote', () => {
  it('stays text in both letters, and no formula in the index', () => {
    const evil = '=cmd|x![a](http://b)<script>@all.svg';
    const result = {
      ...named('=1+1', [webs({ location: { ...webs().location, file: evil } })]),
      files: { artwork: evil },
    };
    const files = reply(run([result]));
    const markdown = files.find(({ name }) => name.endsWith('.md'))!.text;
    expect(markdown).not.toContain('<script>');
    expect(markdown).not.toContain('![a](');
    expect(markdown).not.toContain('@all');
    expect(textOf(files, 'index.csv')).toContain('\r\n"\'=1+1"');
  });

  it('never leads out of the folder, and no two jobs share a name', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.oneof(
            fc.string({ unit: 'binary' }),
            fc.constantFrom('../../etc/passwd', 'CON', 'index', 'Müller.job.yaml', 'muller', 'ß/..'),
          ),
          { maxLength: 30 },
        ),
        (jobs) => {
          const names = new FileNames();
          const made = jobs.map((name) => names.next(name));
          expect(new Set(made).size).toBe(made.length);
          for (const name of made)
            expect(name).toMatch(/^(?!(con|prn|aux|nul|com\d|lpt\d|index)$)[a-z0-9][a-z0-9-]{0,75}$/);
        },
      ),
    );
  });
});

describe('the picture of the places', () => {
  const drawing = {
    view: { minX: 0, minY: 0, maxX: 100, maxY: 50 },
    yUp: false,
    artwork: [],
    areas: [],
    cuts: [{ lines: [[0, 0, 100, 0, 100, 50, 0, 50, 0, 0]] }],
  } as unknown as JobPictures['drawing'];
  const told = (number: number, at: { x: number; y: number } | null) => ({
    number,
    what: { template: '', values: {} },
    where: { template: '', values: {} },
    elsewhere: false,
    at,
  });

  it('is not made where no problem has a place', () => {
    expect(placePicture(drawing, [told(1, null)], 'sign')).toBeNull();
  });

  it('marks each place with the number of the letter, and no two rings overlap', () => {
    const many = Array.from({ length: 12 }, (_, i) => told(i + 1, { x: 50, y: 25 }));
    const svg = placePicture(drawing, many, 'sign')!;
    const rings = [...svg.matchAll(/<circle cx="([\d.]+)" cy="([\d.]+)" r="11"/g)].map(
      ([, x, y]) => [Number(x), Number(y)] as const,
    );
    expect(rings).toHaveLength(12);
    for (const [i, a] of rings.entries())
      for (const b of rings.slice(i + 1)) expect(Math.hypot(a[0] - b[0], a[1] - b[1])).toBeGreaterThan(21.9);
    expect([...svg.matchAll(/>(\d+)<\/text>/g)].map(([, n]) => Number(n))).toEqual(many.map(({ number }) => number));
  });
});
