import { readdirSync, readFileSync } from 'node:fs';
import { nearestWord } from '../../units/nearest-word.ts';
import type { AddCommand } from '../command.ts';
import { packagePath } from '../files/package-files.ts';
import { UsageError } from '../usage-error.ts';

const SUFFIX = '.schema.json';

export const schema: AddCommand = (program, io) =>
  program
    .command('schema')
    .argument(
      '[name]',
      'job, machine, bench, material, settings, coupon-results, evidence, result or drawing; without it, all are listed with their paths',
    )
    .description('print the JSON Schema of a file format')
    .action((name: string | undefined) => {
      const folder = packagePath('schemas');
      const names = readdirSync(folder)
        .filter((file) => file.endsWith(SUFFIX))
        .map((file) => file.slice(0, -SUFFIX.length))
        .sort();
      if (name === undefined) {
        io.stdout.write(names.map((one) => `${one}  ${packagePath('schemas', one + SUFFIX)}\n`).join(''));
        return;
      }
      if (!names.includes(name)) {
        const near = nearestWord(name, names);
        throw new UsageError(
          `there is no schema "${name}"${near === undefined ? '' : ` (did you mean ${near}?)`}.`,
          `There are ${names.join(', ')}.`,
        );
      }
      io.stdout.write(readFileSync(packagePath('schemas', name + SUFFIX), 'utf8'));
    });
