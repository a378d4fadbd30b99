/** A file and its path below what was picked or dropped. */
export interface PickedFile {
  path: string;
  file: File;
}

/** Files of an input; of a folder, paths count from inside it. */
export function filesOfInput(input: HTMLInputElement): PickedFile[] {
  return [...(input.files ?? [])].map((file) => {
    const below = file.webkitRelativePath;
    return { path: below === '' ? file.name : below.split('/').slice(1).join('/'), file };
  });
}

/** Files that were dropped, folders walked. A single folder is the root; several things lie beside each other in it. */
export async function filesOfDrop(transfer: DataTransfer): Promise<PickedFile[]> {
  const entries = [...transfer.items].flatMap((item) => item.webkitGetAsEntry() ?? []);
  const [only] = entries;
  if (entries.length === 1 && only?.isDirectory) return walk(only as FileSystemDirectoryEntry, '');
  const all = await Promise.all(entries.map((entry) => below(entry, '')));
  return all.flat();
}

async function below(entry: FileSystemEntry, folder: string): Promise<PickedFile[]> {
  const path = `${folder}${entry.name}`;
  if (entry.isDirectory) return walk(entry as FileSystemDirectoryEntry, `${path}/`);
  const file = await new Promise<File>((resolve, reject) => {
    (entry as FileSystemFileEntry).file(resolve, reject);
  });
  return [{ path, file }];
}

async function walk(folder: FileSystemDirectoryEntry, path: string): Promise<PickedFile[]> {
  const reader = folder.createReader();
  const all: PickedFile[] = [];
  for (;;) {
    // A reader gives its entries in parts until a part is empty.
    const part = await new Promise<FileSystemEntry[]>((resolve, reject) => {
      reader.readEntries(resolve, reject);
    });
    if (part.length === 0) return all;
    for (const entry of part) all.push(...(await below(entry, path)));
  }
}
