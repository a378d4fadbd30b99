import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach } from 'vitest';
import { main } from '../../src/cli/main.ts';

export const REPOSITORY = fileURLToPath(new URL('../..', import.meta.url));

const folders: string[] = [];
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

/** A new folder with the given files, gone after the test. */
export function folder(files: Record<string, string | Uint8Array> = {}): string {
  const made = mkdtempSync(join(tmpdir(), 'kerflint-test-'));
  folders.push(made);
  for (const [name, content] of Object.entries(files)) {
    mkdirSync(dirname(join(made, name)), { recursive: true });
    writeFileSync(join(made, name), content);
  }
  return made;
}

/** A copy of the demo, gone after the test. */
export function demo(): string {
  const made = folder();
  cpSync(join(REPOSITORY, 'examples'), made, { recursive: true });
  return made;
}

export interface Told {
  code: number;
  stdout: string;
  stderr: string;
}

/** Runs the command line in process, as the program would with these arguments. */
export async function kerflint(
  cwd: string,
  argv: readonly string[],
  world: { stdin?: string; env?: Record<string, string> } = {},
): Promise<Told> {
  const told = { stdout: '', stderr: '' };
  const out = (name: 'stdout' | 'stderr') => ({
    write: (text: string) => {
      told[name] += text;
    },
  });
  const code = await main({
    argv,
    cwd,
    env: world.env ?? {},
    stdin: [world.stdin ?? ''],
    stdout: out('stdout'),
    stderr: out('stderr'),
  });
  return { code, ...told };
}
