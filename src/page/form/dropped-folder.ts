/** What lies in a folder that was dropped. */
type Inside = { name: string; file: () => Promise<File> } | { name: string; folder: Folder };

/** A folder that was dropped: each call goes through it. What cannot be opened rejects. */
export type Folder = () => AsyncIterable<Inside>;

/** What the file system hands out (WHATWG File System), as far as it is used here: the types of the language do not have all of it yet. */
interface Handle {
  kind: 'file' | 'directory';
  name: string;
  getFile(): Promise<File>;
  values(): AsyncIterable<Handle>;
}

/** A dropped folder by its handle, which also opens in a page from disk; null where the browser hands out none. Asked during the drop. */
export function handleFolder(item: DataTransferItem): Folder | null {
  if (!('getAsFileSystemHandle' in item)) return null;
  const handle = (item as { getAsFileSystemHandle(): Promise<Handle | null> }).getAsFileSystemHandle();
  // Whoever walks it hears of it.
  handle.catch(() => {});
  return async function* () {
    const folder = await handle;
    if (folder === null) throw new Error('no handle');
    yield* inHandle(folder);
  };
}

async function* inHandle(folder: Handle): AsyncIterable<Inside> {
  for await (const one of folder.values()) {
    const { name } = one;
    yield one.kind === 'file' ? { name, file: () => one.getFile() } : { name, folder: () => inHandle(one) };
  }
}

/** A dropped folder by its entry, the older way. */
export function entryFolder(entry: FileSystemEntry): Folder {
  return async function* () {
    const reader = (entry as FileSystemDirectoryEntry).createReader();
    for (;;) {
      // A reader gives its entries in parts until a part is empty.
      const some = await new Promise<FileSystemEntry[]>((resolve, reject) => {
        reader.readEntries(resolve, reject);
      });
      if (some.length === 0) return;
      yield* some.map((one) =>
        one.isDirectory ? { name: one.name, folder: entryFolder(one) } : { name: one.name, file: () => fileOf(one) },
      );
    }
  };
}

function fileOf(entry: FileSystemEntry): Promise<File> {
  return new Promise((resolve, reject) => {
    (entry as FileSystemFileEntry).file(resolve, reject);
  });
}
