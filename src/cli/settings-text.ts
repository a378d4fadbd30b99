import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import { UNCHECKED } from '../job/files/left-out.ts';
import { createLibrary } from '../job/files/library.ts';
import { escapeTerminal } from '../report/escape.ts';
import { columns } from '../units/columns.ts';
import { type GatherRequest, placesOf, stopOnSettingProblems } from './check/gather.ts';
import { UsageError } from './usage-error.ts';

/** The settings in force for a path, one a line, each with its origin. */
export function settingsText(request: Omit<GatherRequest, 'bareInFolders'>): string {
  const missing = request.paths.find((path) => !existsSync(resolve(request.cwd, path)));
  if (missing !== undefined)
    throw new UsageError(`${escapeTerminal(missing)} does not exist.`, 'Name a job, a toolpath, artwork or a folder.');
  const { root, trusted } = placesOf(request);
  const { settings, sources } = trusted.shop;
  const library = createLibrary({
    catalogue: trusted.catalogue.sources,
    shop: sources,
    untrusted: request.untrusted,
  });
  stopOnSettingProblems(library.shopProblems());
  const origin = (key: string) => {
    if (settings === null) return 'default';
    const { file, line } = settings.placeOf([key]);
    return `${file}:${line}`;
  };
  const list = (values: readonly string[]) => (values.length === 0 ? 'none' : values.join(', '));
  const shopIds = library.ids('shop');
  const shopFrom =
    request.shop !== null ? `--shop ${request.shop}` : (settings?.file ?? 'no --shop, no .kerflint.yaml');
  const rows: [string, string, string][] = [
    ['root', root, 'the nearest .git or .kerflint.yaml, else the folder'],
    ['settings', settings?.file ?? 'none', request.untrusted && request.shop === null ? '--untrusted' : shopFrom],
    [
      'machine folders',
      list(settings?.machines ?? []),
      settings && settings.machines.length > 0 ? origin('machines') : 'default',
    ],
    [
      'material folders',
      list(settings?.materials ?? []),
      settings && settings.materials.length > 0 ? origin('materials') : 'default',
    ],
    [
      'budget',
      settings?.budget ? `${settings.budget.amount} ${settings.budget.currency}` : 'none',
      settings?.budget ? origin('budget') : 'default',
    ],
    ['exclude', list(settings?.exclude ?? []), settings && settings.exclude.length > 0 ? origin('exclude') : 'default'],
    ...(['toolpath', 'artwork'] as const).map((kind): [string, string, string] => {
      const said = settings?.unchecked[kind];
      return [`${kind} left unjudged`, said ?? UNCHECKED[kind], said === undefined ? 'default' : origin('unchecked')];
    }),
    ...(settings?.rules ?? []).map(({ id, severity, options }): [string, string, string] => {
      const { file, line } = settings!.placeOf(['rules', id], 'key');
      const values = Object.entries(options).map(([key, value]) => `${key} ${value}`);
      return [id, [severity ?? 'as it is', ...values].join(', '), `${file}:${line}`];
    }),
    ['machines of the shop', list(shopIds.machines), shopFrom],
    ['materials of the shop', list(shopIds.materials), shopFrom],
    ['materials of the catalogue', String(library.ids().materials.length), 'ships with kerflint'],
  ];
  const lines = columns(
    rows.map(([name, value, from]) => [name, `${escapeTerminal(value)}  (${escapeTerminal(from)})`]),
  );
  return `${lines.join('\n')}\n`;
}
