import { leastSure } from '../cuts/least-sure.ts';
import type { JobFacts } from '../facts.ts';
import type { SetupCard } from './drawing-model.ts';

/** What the person at the machine sets before the job, from plan and toolpath. */
export function setupCard(facts: JobFacts): SetupCard {
  const { machine, lens, material, input } = facts;
  const sidecar = input.sidecar;
  const watched = leastSure(facts.cuts);
  return {
    machine: machine?.id ?? null,
    lens: lens?.id ?? null,
    standoffMm: lens?.standoffMm ?? null,
    tasks: facts.tasks.flatMap((task, index) => {
      const cut = facts.cuts.find((one) => one.taskIndex === index);
      const first = cut?.passes[0];
      if (!first && !task.planned) return [];
      return [
        {
          name: task.name,
          aim: task.aim,
          setting: first?.setting ?? null,
          powerW: first?.powerW ?? null,
          speedMmPerS: first?.programmedMmPerS ?? task.planned?.speedMmPerS ?? null,
          passes: cut?.passes.length || (task.planned?.passes ?? 1),
          focusMm: first?.focusMm ?? task.planned?.focusMm ?? null,
          focusStepMm: cut && cut.passes.length > 1 ? cut.passes[1]!.focusMm - cut.passes[0]!.focusMm : 0,
          airBar: task.planned?.airBar ?? null,
        },
      ];
    }),
    material: material?.name ?? facts.materialName,
    thicknessMm: facts.thicknessMm,
    face: sidecar?.face ?? null,
    mirror: sidecar?.mirror ?? null,
    bowMm: sidecar?.bowMm ?? null,
    zero: sidecar?.zero ?? null,
    sheet: sidecar?.sheet ? { widthMm: sidecar.sheet.widthMm, heightMm: sidecar.sheet.heightMm } : null,
    hazard: material ? { class: material.hazard.class, reason: material.hazard.reason } : null,
    watch: watched && {
      task: watched.task,
      probability: watched.prediction!.throughProbability,
      line: watched.location.line,
      file: watched.location.file,
    },
  };
}
