import * as v from 'valibot';
import { money, strict, version, words } from '../yaml/shape.ts';
import { replySchema } from './reply-settings.ts';

const folders = (describe: string) =>
  v.pipe(
    v.array(words('a folder, relative to this file', 400)),
    v.maxLength(50, 'more than 50 folders'),
    v.description(describe),
  );

const severity = v.picklist(
  ['error', 'warning', 'note'],
  'a severity is written as error, warning or note; off leaves the rule out',
);

/** `off`, a severity, or a severity with values for the rule's options. Which rules and options there are is judged by the rules. */
const ruleSetting = v.union(
  [
    v.picklist(['off', 'error', 'warning', 'note']),
    v.pipe(
      v.record(v.string(), v.union([v.string(), v.number(), v.boolean()])),
      v.check(
        (said) => said['severity'] === undefined || v.is(severity, said['severity']),
        'a severity is written as error, warning or note; off leaves the rule out',
      ),
    ),
  ],
  'write off, error, warning, note, or { severity: note, <option>: <value> }',
);

const whenUnchecked = v.picklist(['incomplete', 'note'], 'write incomplete or note');

/** The settings of a shop or a checkout, `.kerflint.yaml` at the root. */
export const settingsSchema = v.pipe(
  strict({
    kerflint: version,
    machines: v.optional(folders('folders that hold *.machine.yaml and, beside them, *.bench.yaml')),
    materials: v.optional(folders('folders that hold *.material.yaml')),
    exclude: v.optional(
      v.pipe(
        v.array(words('a pattern for paths relative to this file, such as old/** or *.draft.svg', 400)),
        v.maxLength(200, 'more than 200 patterns'),
        v.description('files and folders that are not checked'),
      ),
    ),
    rules: v.optional(
      v.pipe(
        v.record(v.string(), ruleSetting),
        v.description('severity and options by rule, as kerflint explain <rule> lists them'),
        v.examples([{ 'toolpath/tip-up': 'off', 'focus/lens-too-short': { severity: 'note', ratio: 6 } }]),
      ),
    ),
    unchecked: v.optional(
      v.pipe(
        strict({ toolpath: v.optional(whenUnchecked), artwork: v.optional(whenUnchecked) }),
        v.description('whether a run is incomplete for files found in a folder that nothing says how to judge'),
      ),
    ),
    reply: v.optional(
      v.pipe(replySchema, v.description('how --format reply=<folder> answers those who sent the jobs')),
    ),
    budget: v.optional(money('the most that a failed run may be expected to cost')),
  }),
  v.title('kerflint settings'),
  v.description('Settings at the root of a checkout or a shop folder.'),
);
