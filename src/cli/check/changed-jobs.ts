import type { JobList } from '../../job/files/job-list.ts';
import type { FoundJob } from '../../job/files/job-opener.ts';
import type { Library } from '../../job/files/library.ts';
import {
  BENCH_SUFFIX,
  baseName,
  folderOf,
  joinPath,
  MACHINE_SUFFIX,
  MATERIAL_SUFFIX,
  SETTINGS_NAME,
} from '../../job/files/paths.ts';
import type { ChangedPaths } from './changed-paths.ts';

/** What a job is judged by beside its own files, by the end of the name. */
const PROFILES = [MACHINE_SUFFIX, BENCH_SUFFIX, MATERIAL_SUFFIX];

/**
 * The jobs that a change touches: their own files, the machine, its bench or the material they use, or settings that hold for all. When
 * it cannot be told which jobs a changed profile belongs to, all count as touched. Paths are relative to the root.
 */
export function touchedJobs(
  jobs: JobList,
  changed: ChangedPaths,
  library: Library,
  bare: { machine?: string; material?: string },
): JobList {
  const profiles = changed.paths.filter((path) => PROFILES.some((suffix) => path.endsWith(suffix)));
  if (changed.paths.some((path) => baseName(path) === SETTINGS_NAME && !path.startsWith('../'))) return jobs;
  return jobs.filter(
    (job) =>
      ownFiles(job).some((file) => changed.has(file)) || (profiles.length > 0 && uses(job, changed, library, bare)),
  );
}

/** Also those that a sidecar names and that are gone. */
function ownFiles(job: FoundJob): string[] {
  const said = job.sidecar?.value;
  const named = [said?.toolpath, said?.artwork].flatMap((name) =>
    said && name ? (joinPath(folderOf(said.file), name) ?? []) : [],
  );
  const sources = [job.sidecarSource, job.toolpath, job.artwork, ...job.beside];
  return [...named, ...sources.flatMap((source) => source?.name ?? [])];
}

function uses(
  job: FoundJob,
  changed: ChangedPaths,
  library: Library,
  bare: { machine?: string; material?: string },
): boolean {
  const asked = job.sidecar === null ? bare : job.sidecar.value;
  const machineName = asked?.machine ?? null;
  const materialName = asked?.material ?? null;
  if (machineName === null || materialName === null) return true;
  const machine = library.machine(machineName, job.beside, job.machinePath).value;
  const material = library.material(materialName, job.beside).value;
  return [machine, material].some((one) => one === null || changed.has(one.file) || usesId(one.id, changed));
}

/** A profile that was moved or deleted is still known by the id in its name. */
function usesId(id: string, changed: ChangedPaths): boolean {
  return changed.paths.some((path) => PROFILES.some((suffix) => baseName(path) === id + suffix));
}
