import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { compareWorstFirst } from '../src/findings/sorting.ts';
import { gather, judge } from '../src/page/worker/check-files.ts';
import { reachOfJob } from '../src/report/pictures/job-reach-chart.ts';
import { sectionFile } from '../src/report/pictures/kerf-section.ts';
import { pictureFile } from '../src/report/pictures/picture-parts.ts';
import { mapPicture } from '../src/report/pictures/sheet-map.ts';
import type { Generated } from './generate.ts';

/** The day on which the demo was checked for the documentation. */
const TODAY = '2026-11-25';
/** Jobs of the demo that are shown. */
const SHOWN = ['weather-vane-hub', 'seed-tray-divider'];

/** Pictures of the demo, drawn by the code that draws the report. */
export async function pictures(): Promise<Generated> {
  const { gathered, refused } = await gather({
    files: filesBelow('examples'),
    catalogue: filesBelow('data'),
    filled: {},
    profile: null,
    today: TODAY,
    toolVersion: '',
    readings: new Map(),
    onProgress: () => {},
  });
  if (refused !== null) throw new Error(refused.text);
  const { result, drawings } = judge(gathered);
  const files: Generated = new Map();
  for (const [i, job] of result.jobs.entries()) {
    const drawing = drawings[i]?.drawing;
    if (!drawing || !SHOWN.includes(job.name)) continue;
    const findings = [...job.findings].sort(compareWorstFirst).map((finding, k) => ({ number: k + 1, finding }));
    files.set(`docs/pictures/${job.name}-map.svg`, pictureFile(mapPicture(drawing, findings, null)));
    if (drawing.section) files.set(`docs/pictures/${job.name}-section.svg`, sectionFile(drawing.section));
    const reach = reachOfJob(drawing, job.thicknessMm);
    if (reach) files.set(`docs/pictures/${job.name}-reach.svg`, pictureFile(reach));
  }
  return files;
}

function filesBelow(folder: string): Map<string, Uint8Array> {
  const names = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
  return new Map(
    names.map((entry) => {
      const path = join(entry.parentPath, entry.name);
      return [path.slice(folder.length + 1), new Uint8Array(readFileSync(path))];
    }),
  );
}
