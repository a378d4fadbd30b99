import type { Source } from '../../source/source.ts';
import { JOB_SUFFIX, MACHINE_SUFFIX, pathProblem, stem } from '../files/paths.ts';
import type { Loaded } from '../files/problem.ts';
import type { PlaceOf, Sidecar, Task } from '../model.ts';
import { load, type Report } from '../yaml/check.ts';
import { type SidecarText, sidecarSchema } from './sidecar-schema.ts';

/** A sidecar of a thousand tasks is far below this; the duplicate check and the walk stay quick. */
const LIMIT_BYTES = 256 * 1024;

/** Reads a `*.job.yaml`. Problems carry their place; the value is null when there are any. */
export function readSidecar(source: Source): Loaded<Sidecar> {
  return load(source, sidecarSchema, LIMIT_BYTES, (said, placeOf, report) => {
    checkPaths(said, report);
    checkTasks(said, report);
    return toSidecar(source.name, said, placeOf);
  });
}

/** Is the sidecar's `machine` a path and not an id? */
export function isMachinePath(machine: string): boolean {
  return machine.endsWith(MACHINE_SUFFIX) || machine.includes('/');
}

function checkPaths(said: SidecarText, report: Report): void {
  if (said.toolpath === undefined && said.artwork === undefined) {
    report([], 'neither a toolpath nor an artwork is named: name at least one', 'missing-key');
  }
  for (const key of ['toolpath', 'artwork', 'machine'] as const) {
    const path = said[key] ?? null;
    const problem = path === null ? null : pathProblem(path);
    if (problem) report([key], `${key}: ${problem}`, 'outside-root');
  }
  if (said.toolpath !== undefined && said.toolpath === said.artwork) {
    report(['artwork'], 'toolpath and artwork name the same file');
  }
  if (said.machine && isMachinePath(said.machine) && !said.machine.endsWith(MACHINE_SUFFIX)) {
    report(['machine'], `machine: a path to a machine profile ends in ${MACHINE_SUFFIX}`);
  }
}

function checkTasks(said: SidecarText, report: Report): void {
  const names = new Set<string>();
  for (const [index, task] of (said.tasks ?? []).entries()) {
    if (names.has(task.name))
      report(['tasks', index, 'name'], `a task "${task.name}" stands above: give each its own name`);
    names.add(task.name);
    if (said.toolpath === undefined && task.program !== undefined) {
      report(['tasks', index, 'program'], 'program selects moves of a toolpath, and no toolpath is named');
    }
    if (said.artwork === undefined && task.strokes !== undefined) {
      report(['tasks', index, 'strokes'], 'strokes selects outlines of an artwork, and no artwork is named');
    }
  }
}

function toSidecar(file: string, said: SidecarText, placeOf: PlaceOf): Sidecar {
  const { sheet } = said;
  return {
    file,
    name: stem(file, JOB_SUFFIX),
    machine: said.machine ?? null,
    lens: said.lens ?? null,
    material: said.material ?? null,
    thickness: said.thickness ?? null,
    face: said.face ?? null,
    mirror: said.mirror ?? null,
    bowMm: said.bow ?? null,
    sheet: sheet
      ? {
          widthMm: sheet.width,
          heightMm: sheet.height,
          price: sheet.price ?? null,
          atXMm: sheet.at?.x ?? 0,
          atYMm: sheet.at?.y ?? 0,
        }
      : null,
    zero: said.zero ?? null,
    toolpath: said.toolpath ?? null,
    artwork: said.artwork ?? null,
    tasks: (said.tasks ?? []).map(toTask),
    waivers: (said.waive ?? []).map((waiver, index) => ({
      rule: waiver.rule,
      reason: waiver.reason ?? null,
      until: waiver.until ?? null,
      location: placeOf(['waive', index]),
    })),
    budget: said.budget ?? null,
    unfilled: unfilledLines(said, placeOf),
    placeOf,
  };
}

/** Keys of a form that stand there without a value. */
function unfilledLines(said: SidecarText, placeOf: PlaceOf): Sidecar['unfilled'] {
  const top = (['machine', 'material', 'thickness'] as const)
    .filter((key) => said[key] === null)
    .map((key) => ({ key, location: placeOf([key]) }));
  const ofTasks = (said.tasks ?? []).flatMap((task, index) =>
    (['power', 'speed'] as const)
      .filter((key) => task[key] === null)
      .map((key) => ({ key: `task ${index + 1}, ${key}`, location: placeOf(['tasks', index, key]) })),
  );
  return [...top, ...ofTasks];
}

function toTask(said: NonNullable<SidecarText['tasks']>[number]): Task {
  const { strokes, program } = said;
  return {
    name: said.name,
    aim: said.aim,
    strokes: strokes
      ? {
          ...(strokes.stroke !== undefined && { stroke: strokes.stroke }),
          ...(strokes.layer !== undefined && { layer: strokes.layer }),
          ...(strokes.class !== undefined && { class: strokes.class }),
          ...(strokes.id !== undefined && { id: strokes.id }),
        }
      : null,
    program: program
      ? {
          ...(program.comment !== undefined && { comment: program.comment }),
          ...(program.tool !== undefined && { tool: program.tool }),
          ...(program.feed !== undefined && { feedMmPerS: program.feed }),
          ...(program.power !== undefined && { power: program.power }),
        }
      : null,
    power: said.power ?? null,
    speedMmPerS: said.speed ?? null,
    passes: said.passes ?? null,
    focusMm: said.focus ?? null,
    focusStepMm: said['focus-step'] ?? 0,
    airBar: said.air ?? null,
  };
}
