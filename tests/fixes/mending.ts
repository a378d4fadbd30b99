import { FIXES, type FixId } from '../../src/fixes/fix.ts';
import { type Mended, type MendInput, mend, soloFixes } from '../../src/fixes/mend.ts';
import { discoverJobs } from '../../src/job/files/discovery.ts';
import { inspector } from '../../src/preflight.ts';
import { READERS } from '../../src/readers.ts';
import type { Source } from '../../src/source/source.ts';
import { memoryAccess } from '../memory-access.ts';
import { type Files, libraryOf, readers, shed, TODAY } from '../memory-shop.ts';

/** A sidecar of the demo's shed: one through task "outline", by a comment, unless it is told otherwise. */
export function sidecar(
  change: { tasks?: string; material?: string; thickness?: string; machine?: string } = {},
): string {
  return `kerflint: 1
machine: ${change.machine ?? 'shed-60w'}
lens: 2in
material: ${change.material ?? 'birch-plywood'}
thickness: ${change.thickness ?? '3.0 mm ± 0.1 mm'}
face: bare
zero: sheet-corner
sheet: { width: 300 mm, height: 200 mm }
toolpath: tray.gcode
tasks:
${
  change.tasks ??
  `  - name: outline
    aim: through
    power: 80 %
    speed: 9 mm/s
    air: 1.4 bar`
}
`;
}

const SHED = shed();
/** The shed's machine, with a profile that says how it switches the air. */
const SWITCHING: Files = Object.fromEntries(
  Object.entries(SHED).map(([name, text]) => [
    name,
    String(text).replace('{ maximum: 2 bar }', '{ maximum: 2 bar, on: M8, off: M9 }'),
  ]),
);
const LIBRARIES = new Map([SHED, SWITCHING].map((files) => [files, libraryOf(files)]));

/** What `mend` is given for a program (lines, a text or bytes) with a sidecar, in the shed. */
export function mendInput(
  program: string | readonly string[] | Uint8Array,
  options: { sidecar?: string; wanted?: readonly FixId[]; files?: Files; switchesAir?: boolean } = {},
): MendInput {
  const toolpath = typeof program === 'string' || program instanceof Uint8Array ? program : `${program.join('\n')}\n`;
  const machines = options.switchesAir ? SWITCHING : SHED;
  const files: Files = {
    ...machines,
    ...options.files,
    'tray.gcode': toolpath,
    'tray.job.yaml': options.sidecar ?? sidecar(),
  };
  const library = options.files === undefined ? LIBRARIES.get(machines)! : libraryOf(files);
  const judged = { today: TODAY, untrusted: false };
  const [job] = discoverJobs(memoryAccess(files), READERS, ['tray.job.yaml'], false).jobs;
  const inspect = inspector({ library, settings: null, options: judged, readers });
  return {
    job: job!,
    library,
    options: judged,
    budget: null,
    readers,
    judge: (one) => inspect(one).result,
    pierceS: 0.3,
    wanted: new Set(options.wanted ?? FIXES),
  };
}

export async function mended(
  ...args: Parameters<typeof mendInput>
): Promise<Mended & { text: string; sidecar: string }> {
  const input = mendInput(...args);
  const outcome = await mend(input);
  const textOf = (source: Source) => {
    const file = outcome.files.find(({ original }) => original.name === source.name);
    return Buffer.concat(
      [...(file ? file.pieces.source(source) : source).chunks()].map((chunk) => chunk.slice()),
    ).toString();
  };
  return { ...outcome, text: textOf(input.job.toolpath!), sidecar: textOf(input.job.sidecarSource!) };
}

export const solo = (...args: Parameters<typeof mendInput>) => soloFixes(mendInput(...args));
