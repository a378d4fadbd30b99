// The licences of what a bundle holds: found by the files that the bundler took in, so that none is forgotten.
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import spdx from 'spdx-license-list/full.js';

/** As licences are named in packages, whatever the ending. */
const LICENCE_FILE = /^(licen[cs]e|copying|notice)([.-].*)?$/i;

/** Folders of the packages whose code is in the outputs of a build, in order of name: 'node_modules/yaml'. */
export function packagesIn({ outputs }) {
  const folders = new Set();
  for (const { inputs } of Object.values(outputs)) {
    for (const [path, { bytesInOutput }] of Object.entries(inputs)) {
      const inside = /^(.*node_modules\/(?:@[^/]+\/)?[^/]+)\//.exec(path.replace(/^[a-z-]+:/, ''));
      if (bytesInOutput > 0 && inside !== null) folders.add(inside[1]);
    }
  }
  return [...folders].sort();
}

/** Name, version, licence and its whole text for each package; a licence that nobody has a text of fails the build. */
export function licencesOf(root, folders) {
  return folders.map((folder) => {
    const { name, version, license, author } = JSON.parse(readFileSync(join(root, folder, 'package.json'), 'utf8'));
    const own = readdirSync(join(root, folder))
      .filter((file) => LICENCE_FILE.test(file))
      .sort()
      .map((file) => readFileSync(join(root, folder, file), 'utf8').trim());
    const text = own.length > 0 ? own.join('\n\n') : commonText(folder, license, author);
    return { name, version, license, text };
  });
}

/** Of a package that names a licence and brings no text of it: the text as SPDX has it, and whose the code is. */
function commonText(folder, license, author) {
  const holder = typeof author === 'string' ? author : author?.name;
  const known = holder === undefined ? undefined : spdx[license];
  if (known === undefined) throw new Error(`${folder} has no licence text: it cannot be shipped in a bundle`);
  return `Copyright: ${holder}\nThe package names the licence and has no text of it; as SPDX has it:\n\n${known.licenseText.trim()}`;
}

/** The licences as one text for people, kerflint's own first. */
export function licencePage(root, folders) {
  const own = readFileSync(join(root, 'LICENSE'), 'utf8').trim();
  const others = licencesOf(root, folders);
  const blocks = others.map(({ name, version, license, text }) => `${name} ${version} (${license})\n\n${text}`);
  const intro = others.length === 0 ? 'It holds no code of others.' : 'It also holds code of these packages.';
  return `${[`kerflint\n\n${own}`, intro, ...blocks].join(`\n\n${'-'.repeat(78)}\n\n`)}\n`;
}

/** Puts the licences of a bundle beside it. */
export function writeLicences(root, file, metafiles) {
  const folders = [...new Set(metafiles.flatMap(packagesIn))].sort();
  writeFileSync(file, licencePage(root, folders));
}
