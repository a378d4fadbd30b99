import * as v from 'valibot';
import { money, strict, version, words } from './shape.ts';

const folders = (describe: string) =>
  v.pipe(
    v.array(words('a folder, relative to this file', 400)),
    v.maxLength(50, 'more than 50 folders'),
    v.description(describe),
  );

/** The settings of a shop or a checkout, `.kerflint.yaml` at the root. */
export const settingsSchema = v.pipe(
  strict({
    kerflint: version,
    machines: v.optional(folders('folders that hold *.machine.yaml')),
    materials: v.optional(folders('folders that hold *.material.yaml')),
    budget: v.optional(money('the most that a failed run may be expected to cost')),
  }),
  v.title('kerflint settings'),
  v.description('Settings at the root of a checkout or a shop folder.'),
);

export type SettingsText = v.InferOutput<typeof settingsSchema>;
