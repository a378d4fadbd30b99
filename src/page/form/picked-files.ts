import { entryFolder, type Folder, handleFolder } from './dropped-folder.ts';

/** A file and its path below what was picked or dropped. */
export interface PickedFile {
  path: string;
  file: File;
}

/** What was dropped or picked, and a sentence for each thing that could not be taken. */
export interface Picked {
  files: PickedFile[];
  refused: string[];
}

/** More files than this are no job: a whole disk may be dropped by mistake. */
const MOST_FILES = 5000;

/** Files of an input; of a folder, paths count from inside it. */
export function filesOfInput(input: HTMLInputElement): Picked {
  const files = [...(input.files ?? [])].map((file) => {
    const below = file.webkitRelativePath;
    return { path: below === '' ? file.name : below.split('/').slice(1).join('/'), file };
  });
  return { files, refused: [] };
}

/**
 * What was dropped: files as such, and folders walked. A single folder is the root; several things lie beside each other in it.
 * A page that was opened from disk may take the files of a drop but not open them by their entries, which therefore count for folders alone.
 */
export async function filesOfDrop(transfer: DataTransfer): Promise<Picked> {
  // Items can be asked only until the event is over.
  const dropped = [...transfer.items]
    .filter(({ kind }) => kind === 'file')
    .map((item) => {
      const entry = item.webkitGetAsEntry();
      const folder = entry?.isDirectory ? (handleFolder(item) ?? entryFolder(entry)) : null;
      return { file: item.getAsFile(), name: entry?.name ?? 'Something', folder };
    });
  const picked: Picked = { files: [], refused: [] };
  if (dropped.length === 0) {
    picked.refused.push('What was dropped is no file: drop files or a folder from a file manager.');
    return picked;
  }
  for (const { file, name, folder } of dropped) {
    if (folder !== null) await walk(folder, name, dropped.length === 1 ? '' : `${name}/`, picked);
    else if (file !== null) picked.files.push({ path: file.name, file });
    else picked.refused.push(`${name} could not be taken: choose it by the button instead.`);
  }
  return picked;
}

/** Adds the files of a folder and those below it; what cannot be opened is told. */
async function walk(folder: Folder, name: string, path: string, picked: Picked): Promise<void> {
  try {
    for await (const inside of folder()) {
      if (picked.files.length >= MOST_FILES) {
        picked.refused.push(`More than ${MOST_FILES} files were dropped: drop a folder further down.`);
        return;
      }
      if ('folder' in inside) {
        await walk(inside.folder, inside.name, `${path}${inside.name}/`, picked);
        continue;
      }
      const file = await inside.file().catch(() => null);
      if (file !== null) picked.files.push({ path: `${path}${inside.name}`, file });
      else picked.refused.push(`${path}${inside.name} could not be opened: choose it by the button instead.`);
    }
  } catch {
    picked.refused.push(
      `The folder ${name} could not be opened by dropping it: choose it by "A whole folder" instead.`,
    );
  }
}
