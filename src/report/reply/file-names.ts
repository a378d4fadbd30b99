const MOST_LETTERS = 60;
/** Names that a file cannot have on every system (Microsoft, "Naming Files, Paths, and Namespaces"). */
const RESERVED = /^(con|prn|aux|nul|com\d|lpt\d)$/;

/** Gives each job a name for its files that no other has, of small letters, digits and hyphens: nothing of it leads out of a folder. */
export class FileNames {
  /** The index has a name as well. */
  readonly #taken = new Set(['index']);

  next(job: string): string {
    const stem = stemOf(job);
    let name = stem;
    for (let n = 2; this.#taken.has(name); n++) name = `${stem}-${n}`;
    this.#taken.add(name);
    return name;
  }
}

function stemOf(job: string): string {
  const plain = job
    .slice(0, 1000)
    .replace(/\.(job\.ya?ml|\w{1,6})$/i, '')
    .normalize('NFKD')
    .replace(/ß/g, 'ss')
    .replace(/\p{Mark}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-/, '')
    .slice(0, MOST_LETTERS)
    .replace(/-$/, '');
  return plain === '' || RESERVED.test(plain) ? `job${plain === '' ? '' : `-${plain}`}` : plain;
}
