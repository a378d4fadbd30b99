import { existsSync, statSync } from 'node:fs';
import { basename, dirname, isAbsolute, join, relative, resolve } from 'node:path';
import { partnerOf, stemOf } from '../../bench/sidecar/partner.ts';
import { sidecarDraft } from '../../bench/sidecar/sidecar-draft.ts';
import { readDrawing, readProgram } from '../../bench/sidecar/sidecar-files.ts';
import type { FileAccess } from '../../job/files/access.ts';
import { kindWhenNamed } from '../../job/files/file-kind.ts';
import { JOB_SUFFIX } from '../../job/files/paths.ts';
import type { Machine } from '../../job/model.ts';
import type { Reader } from '../../model/reader.ts';
import { formatsInWords } from '../../model/reader-choice.ts';
import { loadReaders, readersNeeded } from '../../preflight.ts';
import { READERS } from '../../readers.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { parseThickness } from '../../units/compound-quantities.ts';
import { inARow } from '../../units/in-a-row.ts';
import { placesOf, type TrustedSources } from '../check/gather.ts';
import { libraryOf } from '../check/judge.ts';
import { slashed } from '../files/files.ts';
import { idBehind, type NamedProfiles, namesFile, type ProfileKind, withNamedFiles } from '../files/named-profiles.ts';
import { schemasFrom } from '../files/schema-reference.ts';
import { writeFile } from '../files/write-file.ts';
import type { Io } from '../terminal/io.ts';
import { allAtOnce, UsageError } from '../usage-error.ts';

interface InitOptions {
  machine?: string;
  lens?: string;
  material?: string;
  thickness?: string;
  shop?: string;
  stdout?: boolean;
}

/** `init` with a file: reads it and its partner, and writes `<name>.job.yaml` beside them. Never over a file. */
export async function runInitSidecar(file: string, options: InitOptions, io: Io): Promise<void> {
  const path = resolve(io.cwd, file);
  const stem = stemOf(basename(path));
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
  const { root, access, paths, trusted } = placesOf({
    cwd: io.cwd,
    paths: [file],
    shop: options.shop ?? null,
    untrusted: false,
  });
  const makes = kindOf(access, paths[0] ?? '', file);
  const toolpathFile = makes === 'toolpath' ? basename(path) : besides(path, stem, 'toolpath');
  const artworkFile = makes === 'artwork' ? basename(path) : besides(path, stem, 'artwork');
  const folder = dirname(paths[0] ?? '');
  const { machine, material, profile } = chosenFor(dirname(path), options, { root, trusted }, io);
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
    material,
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
function besides(path: string, stem: string, kind: Reader['makes']): string | null {
  return partnerOf(stem, kind, READERS, (name) => existsSync(join(dirname(path), name)));
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

/** Machine and material as the sidecar writes them, and the machine's profile where it is known. */
function chosenFor(
  folder: string,
  { machine, material, shop }: InitOptions,
  { root, trusted }: { root: string; trusted: TrustedSources },
  io: Io,
): { machine: string | null; material: string | null; profile: Machine | null } {
  const where = { cwd: io.cwd, root, shop: shop ?? null, untrusted: false };
  const named: NamedProfiles = {};
  if (machine !== undefined) named.machine = machine;
  if (material !== undefined) named.material = material;
  const sources = withNamedFiles(trusted.shop.sources, named, where);
  const library = libraryOf({ ...trusted, shop: { ...trusted.shop, sources } }, false);
  const known: Known = { ...where, shopFiles: trusted.shop.sources.map(({ name }) => name), folder };
  const written = allAtOnce([
    () => (machine === undefined ? onlyOne(library.ids('shop').machines) : writtenAs('machine', machine, known)),
    () => (material === undefined ? null : writtenAs('material', material, known)),
  ]);
  const profile = written[0] === null ? null : library.machine(idBehind('machine', written[0])).value;
  return { machine: written[0], material: written[1], profile };
}

/** A shop with one machine needs no choice. */
function onlyOne(ids: readonly string[]): string | null {
  const [only = null, ...others] = ids;
  return others.length === 0 ? only : null;
}

/** What decides how a sidecar writes a file that was named. */
interface Known {
  cwd: string;
  root: string;
  /** Relative to the root. */
  shopFiles: readonly string[];
  /** The sidecar's, absolute. */
  folder: string;
}

/**
 * What the sidecar says for a machine or material: its id, also of a file that a check finds by it; for any other machine file its path.
 * @throws UsageError when a check of the sidecar would not find the file
 */
function writtenAs(kind: ProfileKind, typed: string, { cwd, root, shopFiles, folder }: Known): string {
  if (!namesFile(typed)) return typed;
  const path = resolve(cwd, typed);
  const fromRoot = slashed(relative(root, path));
  if (shopFiles.includes(fromRoot) || dirname(path) === folder) return idBehind(kind, typed);
  if (kind === 'machine' && !fromRoot.startsWith('../') && !isAbsolute(fromRoot))
    return slashed(relative(folder, path));
  throw new UsageError(
    `--${kind} ${escapeTerminal(typed)} lies where a check of the sidecar does not look.`,
    `Put it into the shop's folder of ${kind}s, or beside the sidecar.`,
  );
}
