import type { Meant } from '../../job/material/names/meant.ts';
import { inARow } from '../../units/in-a-row.ts';
import type { Questioned } from '../facts.ts';
import { ofScaleDoubt } from '../power-scale/power-scale.ts';
import { ofCuts } from './of-cuts.ts';
import { eachOnce, PARTS, type Unanswered } from './unanswered.ts';

/** What must be known before the job can read as checked and is not, each with how to give it. */
export function unansweredOf(facts: Questioned, found: readonly Unanswered[]): Unanswered[] {
  return eachOnce([
    ...found,
    ...ofFiles(facts),
    ...ofMaterial(facts),
    ...ofScaleDoubt(facts.scaleDoubt),
    ...ofReading(facts),
    ...ofCuts(facts),
  ]);
}

function ofFiles({ inputProblems }: Questioned): Unanswered[] {
  return inputProblems
    .filter(({ unreadable }) => unreadable)
    .map(({ file }) => ({
      fact: 'file',
      what: 'what is in a file of the job',
      missing: `a file named in ${file} cannot be read`,
      remedy: `Correct the name in ${file}, or make the file readable.`,
    }));
}

function ofMaterial({ material, materialName, materialUnknown, materialMeant }: Questioned): Unanswered[] {
  const what = `what the sheet gives off, and ${PARTS}`;
  if (materialUnknown) {
    return [
      {
        fact: 'material',
        what,
        missing: 'the material is unknown',
        remedy: 'Ask the supplier for the safety data sheet, then name the material by its id or an alias.',
      },
    ];
  }
  if (material !== null || materialName === null) return [];
  return [{ fact: 'material', what, ...notKnown(materialMeant) }];
}

/** A name that no material has: what it lacks, and what to do. */
function notKnown(meant: Meant | null): Pick<Unanswered, 'missing' | 'remedy'> {
  const describe = 'describe the material in a *.material.yaml from its safety data sheet.';
  if (meant?.why === 'kind') {
    const ids = inARow(
      meant.choices.map(({ id }) => id),
      'or',
    );
    return { missing: `the material does not say which ${meant.word} it is`, remedy: `Name ${ids}.` };
  }
  if (meant?.why === 'hazard') {
    const missing = `the material is not known here, and its name is like "${meant.word}"`;
    return { missing, remedy: `Keep the sheet from the beam until it is known what it is, then ${describe}` };
  }
  return { missing: 'the material is not known here', remedy: `Correct the name, or ${describe}` };
}

function ofReading({ toolpath, artwork }: Questioned): Unanswered[] {
  const found: Unanswered[] = [];
  if (toolpath && !toolpath.analysed) {
    found.push({
      fact: 'toolpath',
      what: 'where the head goes and where the beam fires',
      missing: 'beam or motion of the toolpath could not be analysed',
      remedy: 'Put right what the findings on the toolpath name, or write it as plain moves.',
    });
  }
  if (artwork && !artwork.analysed) {
    found.push({
      fact: 'artwork',
      what: 'what is drawn behind the place where reading ended',
      missing: 'the artwork could not be read to its end',
      remedy: 'Put right what the findings on the artwork name, or export it again.',
    });
  }
  return found;
}
