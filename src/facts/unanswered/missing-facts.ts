import type { FoundJob } from '../../job/files/job-opener.ts';
import type { Sidecar, Thickness } from '../../job/model.ts';
import { atStart } from '../../units/sentence.ts';
import { PARTS, type Unanswered } from './unanswered.ts';

/** The facts that every job must state, as far as it does. */
interface StatedFacts {
  readonly machine: string | null;
  readonly material: string | null;
  readonly thickness: Thickness | null;
}

const QUESTIONS = {
  machine: { value: '<id>', missing: 'no machine is named', what: `what the machine does, and ${PARTS}` },
  material: { value: '<id>', missing: 'no material is named', what: `what the sheet gives off, and ${PARTS}` },
  thickness: { value: '"6.0 mm"', missing: 'no thickness is given', what: PARTS },
} as const;

/**
 * Which of machine, material and thickness nobody has stated, with how to state it. A sidecar that cannot be read says so itself, and
 * a job that only marks areas asks for no thickness.
 */
export function missingFacts({ sidecar: read }: FoundJob, stated: StatedFacts): Unanswered[] {
  const sidecar = read?.value ?? null;
  if (read !== null && sidecar === null) return [];
  const onlyMarks = sidecar !== null && sidecar.tasks.length > 0 && sidecar.tasks.every(({ aim }) => aim === 'surface');
  return (['machine', 'material', 'thickness'] as const)
    .filter((fact) => stated[fact] === null && !(fact === 'thickness' && onlyMarks))
    .map((fact) => {
      const { what, missing } = QUESTIONS[fact];
      return { fact, what, missing, remedy: howToState(fact, sidecar) };
    });
}

/** How to state it, as a sentence: a headline puts it after another one. */
function howToState(fact: keyof StatedFacts, sidecar: Sidecar | null): string {
  const how = whereToState(fact, sidecar);
  return fact === 'thickness' ? `Measure the sheet: ${how}` : atStart(how);
}

function whereToState(fact: keyof StatedFacts, sidecar: Sidecar | null): string {
  const { value } = QUESTIONS[fact];
  if (sidecar === null) return `give \`--${fact} ${value}\`, or write a sidecar (\`kerflint init\`).`;
  const empty = sidecar.unfilled.find(({ key }) => key === fact);
  return empty === undefined
    ? `write \`${fact}: ${value.replaceAll('"', '')}\` in ${sidecar.file}.`
    : `fill in \`${fact}:\` on line ${empty.location.line} of ${sidecar.file}.`;
}
