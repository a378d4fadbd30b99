import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { AddCommand } from '../command.ts';
import { packagePath } from '../files/package-files.ts';
import { writeFile } from '../files/write-file.ts';

export const page: AddCommand = (program, io) =>
  program
    .command('page')
    .description('one offline HTML page that checks jobs in the browser, for a machine without a terminal')
    .option('--out <file>', 'where to write it (default: stdout)')
    .action((options: { out?: string }) => {
      const text = readFileSync(packagePath('dist', 'page.html'), 'utf8');
      if (options.out === undefined) io.stdout.write(text);
      else writeFile(resolve(io.cwd, options.out), text);
    });
