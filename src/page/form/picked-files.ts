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
  const items = [...transfer.items].filter(({ kind }) => kind === 'file');
  const dropped = items.map((item) => ({ file: item.getAsFile(), entry: item.webkitGetAsEntry() }));
  const picked: Picked = { files: [], refused: [] };
  if (dropped.length === 0) {
    picked.refused.push('What was dropped is no file: drop files or a folder from a file manager.');
    return picked;
  }
  for (const { file, entry } of dropped) {
    if (entry?.isDirectory) {
      await walk(entry as FileSystemDirectoryEntry, dropped.length === 1 ? '' : `${entry.name}/`, picked);
    } else if (file !== null) picked.files.push({ path: file.name, file });
    else picked.refused.push(`${entry?.name ?? 'Something'} could not be taken: choose it by the button instead.`);
  }
  return picked;
}

/** Adds the files of a folder and those below it; what cannot be opened is told. */
async function walk(folder: FileSystemDirectoryEntry, path: string, picked: Picked): Promise<void> {
  const reader = folder.createReader();
  for (;;) {
    // A reader gives its entries in parts until a part is empty.
    const part = await new Promise<FileSystemEntry[]>((resolve, reject) => {
      reader.readEntries(resolve, reject);
    }).catch(() => null);
    if (part === null) {
      picked.refused.push(
        `The folder ${folder.name} could not be opened by dropping it: choose it by "A whole folder" instead.`,
      );
      return;
    }
    if (part.length === 0) return;
    for (const entry of part) {
      if (picked.files.length >= MOST_FILES) {
        picked.refused.push(`The folder ${folder.name} holds more than ${MOST_FILES} files: drop one further down.`);
        return;
      }
      await addEntry(entry, path, picked);
    }
  }
}

async function addEntry(entry: FileSystemEntry, path: string, picked: Picked): Promise<void> {
  if (entry.isDirectory) {
    await walk(entry as FileSystemDirectoryEntry, `${path}${entry.name}/`, picked);
    return;
  }
  const file = await new Promise<File>((resolve, reject) => {
    (entry as FileSystemFileEntry).file(resolve, reject);
  }).catch(() => null);
  if (file !== null) picked.files.push({ path: `${path}${entry.name}`, file });
  else picked.refused.push(`${path}${entry.name} could not be opened: choose it by the button instead.`);
}
