/** Somewhere to write to: a process's stream, or a test's list of strings. */
export interface OutputStream {
  write(text: string | Uint8Array): unknown;
  readonly isTTY?: boolean;
  readonly columns?: number;
  readonly rows?: number;
  on?(event: 'error', listener: (error: Error & { code?: string }) => void): unknown;
}

/** Somewhere to read bytes from, once; a terminal can be asked. */
export type InputStream = (AsyncIterable<Uint8Array | string> | Iterable<Uint8Array | string>) & {
  readonly isTTY?: boolean;
};

/** All that the command line has of the world. */
export interface Io {
  /** Arguments without the program's own name. */
  argv: readonly string[];
  /** Absolute path of the working folder. */
  cwd: string;
  env: Readonly<Record<string, string | undefined>>;
  stdin: InputStream;
  stdout: OutputStream;
  stderr: OutputStream;
}
