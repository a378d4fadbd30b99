import type { AddCommand } from '../command.ts';

export const config: AddCommand = (program, io) =>
  program
    .command('config')
    .argument('[file]', 'a job, toolpath or artwork (default: this folder)')
    .description('print the settings in force there, each with where it comes from')
    .option('--shop <folder>', 'folder with the machines, materials and settings that are trusted')
    .option('--untrusted', 'as check would see it for jobs sent by strangers')
    .option('--shop-in-checkout', 'nobody but you can change --shop, although it lies among jobs that are not trusted')
    .action(
      async (file: string | undefined, options: { shop?: string; untrusted?: boolean; shopInCheckout?: boolean }) => {
        const { settingsText } = await import('../settings-text.ts');
        io.stdout.write(
          settingsText({
            cwd: io.cwd,
            paths: file === undefined ? [] : [file],
            shop: options.shop ?? null,
            untrusted: options.untrusted ?? false,
            shopInCheckout: options.shopInCheckout ?? false,
          }),
        );
      },
    );
