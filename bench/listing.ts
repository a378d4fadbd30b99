// The search for jobs among a million entries, through files in memory that are made when they are asked for: what the search itself keeps.
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { FileAccess, FolderEntry } from '../src/job/files/access.ts';
import { discoverJobs } from '../src/job/files/discovery.ts';
import { READERS } from '../src/readers.ts';
import { textSource } from '../src/source/source.ts';

const FOLDERS = 1000;
const FILES_EACH = 1000;

function millionEntries(extension: string): FileAccess {
  function* entries(folder: string): Iterable<FolderEntry> {
    const top = folder === '';
    for (let i = 0; i < (top ? FOLDERS : FILES_EACH); i++)
      yield top ? { name: `bed-${i}`, kind: 'folder' } : { name: `label-${i}.${extension}`, kind: 'file' };
  }
  return {
    list: (folder) => ({ entries: entries(folder), problem: null }),
    stat: () => ({ kind: 'folder', size: 0 }),
    open: (path) => textSource(path, ''),
  };
}

const [extension] = process.argv.slice(2);
if (extension === undefined) {
  for (const one of ['md', 'svg'])
    spawnSync(process.execPath, [fileURLToPath(import.meta.url), one], { stdio: 'inherit' });
} else {
  const before = process.cpuUsage();
  const { leftOut, passedBy } = discoverJobs(millionEntries(extension), READERS, [''], false);
  const { user, system } = process.cpuUsage(before);
  console.log(
    `${FOLDERS * FILES_EACH} files *.${extension}: ${((user + system) / 1e6).toFixed(1)} CPU s, ${Math.round(process.resourceUsage().maxRSS / 1024)} MB resident; ${leftOut.length} listed as left out, ${passedBy.otherFiles} counted`,
  );
}
