// Where in src a place of dist/parts/program.cjs comes from, as a stack names it: node build/where.mjs 167:4711 [more]
import { SourceMap } from 'node:module';
import { relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { asciiText, programOptions } from './build.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));

/** `file:line:column` in the sources as they are now for each `line:column` of the program that is built from them; null for none. */
export async function placesInSource(places) {
  const made = await build({ ...programOptions('program.cjs'), write: false, sourcemap: 'external' });
  const [map, text] = ['.map', '.cjs'].map((end) => made.outputFiles.find(({ path }) => path.endsWith(end)).text);
  const lines = text.split('\n');
  const known = new SourceMap(JSON.parse(map));
  return places.map((place) => {
    const [line, column] = place.split(':').map(Number);
    const { originalSource, originalLine, originalColumn } = known.findEntry(
      line - 1,
      unescaped(lines[line - 1], column - 1),
    );
    if (originalSource === undefined) return null;
    return `${relative(root, originalSource)}:${originalLine + 1}:${originalColumn + 1}`;
  });
}

/** The column before what is not ASCII was escaped. */
function unescaped(line = '', column) {
  let at = 0;
  for (let escaped = 0; escaped < column && at < line.length; at++) escaped += asciiText(line[at]).length;
  return at;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  for (const place of await placesInSource(process.argv.slice(2))) console.log(place ?? 'nowhere');
}
