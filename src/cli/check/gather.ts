import { existsSync, realpathSync, statSync } from 'node:fs';
import { dirname, relative, resolve } from 'node:path';
import { type FileAccess, findRoot } from '../../job/files/access.ts';
import { type Discovery, discoverJobs } from '../../job/files/discovery.ts';
import { excludedBy } from '../../job/files/exclude.ts';
import type { FileProblem } from '../../job/files/problem.ts';
import { collectCatalogue, collectShop, type Shop } from '../../job/files/shop.ts';
import { ruleProblems } from '../../preflight.ts';
import { READERS } from '../../readers.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { folderAccess, isWithin, type OnBytes, slashed } from '../files/files.ts';
import { linkBelow } from '../files/links.ts';
import { type NamedProfiles, withNamedFiles } from '../files/named-profiles.ts';
import { packagePath } from '../files/package-files.ts';
import { UsageError } from '../usage-error.ts';
import { refuseShopAmongJobs } from './shop-place.ts';

/** What a run is asked to look at, and whom it trusts. */
export interface GatherRequest {
  /** Absolute. */
  cwd: string;
  /** As typed; none means the working folder. */
  paths: readonly string[];
  /** As typed. */
  shop: string | null;
  untrusted: boolean;
  /** It was said that nobody else can change the shop, although it lies among the jobs. */
  shopInCheckout?: boolean;
  /** Absolute: the root is looked for no further up than here. */
  ceiling?: string;
  /** Bare files in folders are jobs, because the options say what they are made of. */
  bareInFolders: boolean;
  /** What the command line says of machine and material: files that it names go before the shop's. */
  bare?: NamedProfiles;
  onBytes?: OnBytes;
  /** Files that people write are read once, so that all of the run is about the same bytes. */
  remember?: boolean;
}

/** More problems than this are put right in several goes. */
const MOST_TOLD = 20;

type Trusting = Pick<GatherRequest, 'shop' | 'cwd' | 'untrusted' | 'remember'>;

/** What a run trusts, opened but not yet read. */
export interface TrustedSources {
  /** What ships with kerflint. */
  catalogue: Shop;
  /** What `--shop` names or, without it, the root's own settings; empty when the root is not trusted. */
  shop: Shop;
}

/** Everything that a run reads, opened but not yet read. */
export interface Gathered extends TrustedSources {
  /** Absolute. */
  root: string;
  discovery: Discovery;
}

/** @throws UsageError for arguments that match nothing, a shop that is no folder, and settings that are wrong */
export function gather(request: GatherRequest): Gathered {
  const places = placesOf(request);
  const { settings } = places.trusted.shop;
  stopOnSettingProblems(ruleProblems(settings));
  const excluded = excludedBy(settings?.exclude ?? []);
  const discovery = discoverJobs(places.access, READERS, places.paths, request.bareInFolders, excluded);
  const [unmatched, ...more] = discovery.unmatched;
  if (unmatched !== undefined) {
    const others = more.length === 0 ? '' : ` (and ${more.length} more)`;
    throw new UsageError(
      `${escapeTerminal(unmatched.text)}${others}.`,
      'Name sidecars, toolpaths, artwork or folders that hold them.',
    );
  }
  return { ...places.trusted, root: places.root, discovery };
}

/** The root of a run and the trusted folders, without looking for jobs. */
export function placesOf(request: Omit<GatherRequest, 'bareInFolders'>): {
  root: string;
  access: FileAccess;
  /** Paths of the arguments relative to the root. */
  paths: string[];
  trusted: TrustedSources;
} {
  const typed = request.paths.length === 0 ? ['.'] : request.paths;
  const absolute = typed.map((path) => resolve(request.cwd, path));
  const { ceiling, shop, untrusted } = request;
  const has = (path: string) => (ceiling === undefined || isWithin(dirname(path), ceiling)) && existsSync(path);
  const root = findRoot(has, absolute.map(folderAt).map(slashed), untrusted);
  const { access, trusted } = openRoot(root, request);
  if (untrusted && shop !== null && !request.shopInCheckout) refuseShopAmongJobs(shop, { cwd: request.cwd, root });
  stopOnSettingProblems([...trusted.catalogue.problems, ...trusted.shop.problems]);
  return { root, access, paths: absolute.map((path) => slashed(relative(root, path))), trusted };
}

/** The files below a known root, and what is trusted beside them. Problems of the settings are not yet looked at. */
export function openRoot(
  root: string,
  { onBytes, bare = {}, ...request }: Trusting & Pick<GatherRequest, 'onBytes' | 'bare'>,
): { access: FileAccess; trusted: TrustedSources } {
  const { remember } = request;
  const access = folderAccess(root, { onBytes, remember });
  const catalogue = collectCatalogue(folderAccess(packagePath('data'), { prefix: 'kerflint/data/', remember }));
  const shop = trustedShop(request, root, access);
  const sources = withNamedFiles(shop.sources, bare, { ...request, root });
  return { access, trusted: { catalogue, shop: { ...shop, sources } } };
}

/** A problem of the settings ends the run before anything is judged. */
export function stopOnSettingProblems(problems: readonly FileProblem[]): void {
  if (problems.length === 0) return;
  const lines = problems
    .slice(0, MOST_TOLD)
    .map(({ place: { file, line, column }, args }) => escapeTerminal(`${file}:${line}:${column}: ${args.text}.`));
  const untold = problems.length - lines.length;
  throw new UsageError(
    [...lines, ...(untold > 0 ? [`(and ${untold} more)`] : [])].join('\n'),
    "Put it right, or go without it (--shop names another folder; --untrusted leaves the checkout's settings out).",
  );
}

function trustedShop(request: Trusting, root: string, access: FileAccess): Shop {
  const { shop, untrusted } = request;
  if (shop !== null) return collectShop(shopAccess(shop, request, root), true);
  return untrusted ? { settings: null, sources: [], problems: [] } : collectShop(access, false);
}

function shopAccess(shop: string, { cwd, untrusted, remember }: Trusting, root: string): FileAccess {
  const folder = resolve(cwd, shop);
  if (!statSync(folder, { throwIfNoEntry: false })?.isDirectory()) {
    throw new UsageError(
      `--shop ${escapeTerminal(shop)} is not a folder.`,
      'Name the folder that holds the machine profiles of the shop.',
    );
  }
  // Whoever names a folder trusts it, but a link among untrusted files leads wherever their author wants.
  const link = untrusted ? linkBelow(realpathSync(root), folder) : null;
  if (link !== null) {
    throw new UsageError(
      `--shop ${escapeTerminal(shop)} leads through the link ${escapeTerminal(link)}, which lies among the jobs that are not trusted.`,
      'Name the folder itself, best in a checkout apart from the jobs.',
    );
  }
  const prefix = slashed(relative(root, folder));
  return folderAccess(folder, { prefix: prefix === '' ? '' : `${prefix}/`, remember });
}

/** The folder that a path is or lies in; of one that is not there, the nearest above that is. */
function folderAt(path: string): string {
  if (statSync(path, { throwIfNoEntry: false })?.isDirectory()) return path;
  const above = dirname(path);
  return above === path ? path : folderAt(above);
}
