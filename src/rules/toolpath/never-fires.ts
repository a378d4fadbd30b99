import type { JobFacts } from '../../facts/facts.ts';
import type { BeamWord, Toolpath } from '../../facts/types.ts';
import { inARow } from '../../units/in-a-row.ts';
import { inToolpath, lineOfToolpath } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatTime, significant } from '../wording.ts';

export default defineRule({
  id: 'toolpath/never-fires',
  summary: 'The head moves, and the beam never fires.',
  severity: 'error',
  since: '0.1.0',
  reads: ['toolpath', 'machine'],
  messages: {
    otherWord:
      'The program moves the head for {time} and never fires the beam as read: it has {words}, and power is set by {word}. Correct the machine’s profile, or export for a controller that takes {word}. By the profile {word} sets the power, full at {full}.',
    zero: 'The program moves the head for {time} and never fires the beam: it has {words}, and no move at the feed with the beam on and a power above 0. Give the strokes a power of up to {full}, which is full by the machine’s profile.',
    notOn:
      'The program moves the head for {time} and never fires the beam: it has {words}, and neither M3 nor M4 switches the beam on. Switch it on ahead of the strokes, or correct the machine’s profile.',
    none: 'The program moves the head for {time} and has no word for a beam at all. Export it for the laser cutter, with a power for each stroke. By the machine’s profile {word} sets the power, full at {full}.',
  },
  example:
    'The program moves the head for 27 s and never fires the beam: it has M3 and S (0 at most), and no move at the feed with the beam on and a power above 0. Give the strokes a power of up to 1000, which is full by the machine’s profile.',
  options: {},
  why: 'A program without power runs to its end and leaves the sheet as it was; nothing of what it is meant to cut can be judged. It comes from a layer whose power was left at 0, from a dry run that was kept, or from a controller that takes its power by another word than the profile says.',
  remedy:
    'Set the power in the program that exports. Hold `controller.power` in the machine’s profile against the controller’s manual.',
  sources: [
    'M3, M4, M5 and S: RS274/NGC [NISTIR-6556]',
    'Fan and analog outputs as beam words: common practice, no source',
  ],
  check(facts) {
    const { toolpath, machine } = facts;
    if (toolpath === null || machine === null) return { notApplicable: 'the job has no toolpath that was read' };
    if (toolpath.moves === 0) return { notApplicable: 'nothing in the program moves' };
    const scale = machine.controller.power;
    // A toolpath is not read without it.
    if (scale === null || fires(toolpath)) return [];
    const { word, full } = scale;
    const { beamWords } = toolpath;
    const args = { time: formatTime(toolpath.time.totalS), word: SAID[word], full };
    const location = placeOf(facts, toolpath, beamWords);
    if (beamWords.length === 0) return [{ messageId: 'none', args, location }];
    const words = inARow(beamWords.map(wordOf), 'and');
    const others = beamWords.some((one) => !OWN[word].has(one.word) && one.highest !== 0);
    if (others) return [{ messageId: 'otherWord', args: { ...args, words }, location }];
    const isOn = word !== 'S' || beamWords.some((one) => one.word !== 'S');
    if (!isOn && beamWords.some(({ highest }) => highest! > 0)) {
      return [{ messageId: 'notOn', args: { time: args.time, words }, location }];
    }
    return [{ messageId: 'zero', args: { time: args.time, full, words }, location }];
  },
});

/** The profile's word for the power, as people write it. */
const SAID = { S: 'S', M106: 'M106', analog: 'M67 or M68' } as const;

/** The words that carry the power where the profile says so, and what switches it. */
const OWN: Record<keyof typeof SAID, ReadonlySet<string>> = {
  S: new Set(['S', 'M3', 'M4']),
  M106: new Set(['M106']),
  analog: new Set(['M67', 'M68']),
};

function fires({ strokes, areas }: Toolpath): boolean {
  return strokes.count > 0 || areas.some((area) => area.poweredMm > 0);
}

function wordOf({ word, highest }: BeamWord): string {
  if (highest === null) return word;
  return `${word} (${significant(highest)} at most)`;
}

function placeOf(facts: JobFacts, toolpath: Toolpath, words: readonly BeamWord[]) {
  const first = words[0];
  return first ? inToolpath(facts, first.place) : lineOfToolpath(facts, Math.min(1, toolpath.lines));
}
