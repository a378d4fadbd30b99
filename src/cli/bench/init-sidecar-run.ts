import { existsSync, statSync } from 'node:fs';
import { basename, dirname, join, relative, resolve } from 'node:path';
import { sidecarDraft } from '../../bench/sidecar/sidecar-draft.ts';
import { readDrawing, readProgram } from '../../bench/sidecar/sidecar-files.ts';
import type { FileAccess } from '../../job/files/access.ts';
import { kindWhenNamed } from '../../job/files/file-kind.ts';
import { createLibrary } from '../../job/files/library.ts';
import { JOB_SUFFIX } from '../../job/files/paths.ts';
import type { Machine } from '../../job/model.ts';
import type { Reader } from '../../model/reader.ts';
import { formatsInWords } from '../../model/reader-choice.ts';
import { loadReaders, readersNeeded } from '../../preflight.ts';
import { READERS } from '../../readers.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { parseThickness } from '../../units/compound-quantities.ts';
import { inARow } from '../../units/in-a-row.ts';
import { placesOf } from '../check/gather.ts';
import { schemasFrom } from '../files/schema-reference.ts';
import { writeFile } from '../files/write-file.ts';
import type { Io } from '../terminal/io.ts';
import { UsageError } from '../usage-error.ts';

interface InitOptions {
  machine?: string;
  lens?: string;
  material?: string;
  thickness?: string;
  shop?: string;
  stdout?: boolean;
}

const extensionsFor = (kind: Reader['makes']) =>
  READERS.filter(({ makes }) => makes === kind).flatMap(({ extensions }) => extensions);

/** `init` with a file: reads it and its partner, and writes `<name>.job.yaml` beside them. Never over a file. */
export async function runInitSidecar(file: string, options: InitOptions, io: Io): Promise<void> {
  const path = resolve(io.cwd, file);
  const stem = basename(path).replace(/\.[^.]*$/, '');
  if (!statSync(path, { throwIfNoEntry: false })?.isFile())
    throw new UsageError(`${escapeTerminal(file)} is no file.`, 'Name a toolpath or artwork.');
  if (options.thickness !== undefined) {
    const parsed = parseThickness(options.thickness);
    if (!parsed.ok)
      throw new UsageError(
        `--thickness: ${escapeTerminal(parsed.problem)}.`,
        'For instance --thickness "6.0 mm ± 0.2 mm".',
      );
  }
  const { access, paths, trusted } = placesOf({
    cwd: io.cwd,
    paths: [file],
    shop: options.shop ?? null,
    untrusted: false,
  });
  const makes = kindOf(access, paths[0] ?? '', file);
  const toolpathFile = makes === 'toolpath' ? basename(path) : besides(path, stem, extensionsFor('toolpath'));
  const artworkFile = makes === 'artwork' ? basename(path) : besides(path, stem, extensionsFor('artwork'));
  const library = createLibrary({ catalogue: trusted.catalogue.sources, shop: trusted.shop.sources, untrusted: false });
  const machine = machineFor(
    options.machine,
    createLibrary({ catalogue: [], shop: trusted.shop.sources, untrusted: false }).ids().machines,
  );
  const profile: Machine | null = machine === null ? null : library.machine(machine).value;
  const folder = dirname(paths[0] ?? '');
  const opened = (name: string | null) =>
    name === null ? null : access.open(join(folder, name).split('\\').join('/'));
  const toolpath = opened(toolpathFile);
  const artwork = opened(artworkFile);
  const readers = await loadReaders(READERS, readersNeeded(READERS, [{ toolpath, artwork }]));
  const target = join(dirname(path), stem + JOB_SUFFIX);
  const text = sidecarDraft({
    toolpath: toolpath && { file: toolpathFile!, program: profile && readProgram(toolpath, readers, profile) },
    artwork: artwork && { file: artworkFile!, drawing: readDrawing(artwork, readers, profile) },
    machine,
    lens: options.lens ?? profile?.lenses[0]?.id ?? null,
    material: options.material ?? null,
    thickness: options.thickness ?? null,
    schemas: schemasFrom(dirname(path)),
  });
  if (options.stdout) {
    io.stdout.write(text);
    return;
  }
  if (existsSync(target)) {
    throw new UsageError(
      `${escapeTerminal(relative(io.cwd, target))} is there already.`,
      'Change it by hand, or see a fresh draft with --stdout.',
    );
  }
  writeFile(target, text);
  io.stderr.write(
    `kerflint: wrote ${escapeTerminal(relative(io.cwd, target))}. Fill in what is left open, then: kerflint check ${escapeTerminal(relative(io.cwd, target))}\n`,
  );
}

/** The file's partner of the same name: `gate.gcode` beside `gate.svg`. */
function besides(path: string, stem: string, endings: readonly string[]): string | null {
  return endings.map((ending) => stem + ending).find((name) => existsSync(join(dirname(path), name))) ?? null;
}

/** @throws UsageError when it is neither toolpath nor artwork */
function kindOf(access: FileAccess, path: string, typed: string): Reader['makes'] {
  const kind = kindWhenNamed(READERS, path, () => access.open(path)).is;
  if (kind === 'toolpath' || kind === 'artwork') return kind;
  throw new UsageError(
    `${escapeTerminal(typed)} is neither ${inARow(formatsInWords(READERS), 'nor')}.`,
    'Name a toolpath or artwork.',
  );
}

/** A shop with one machine needs no choice. */
function machineFor(typed: string | undefined, shopMachines: readonly string[]): string | null {
  return typed ?? (shopMachines.length === 1 ? (shopMachines[0] ?? null) : null);
}
