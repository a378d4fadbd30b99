import type { CutFact } from '../../facts/cuts/cut-fact.ts';
import { FIRE } from '../cautions.ts';
import { defineRule } from '../rule.ts';
import { listed, mm } from '../wording.ts';

export default defineRule({
  id: 'toolpath/air-off',
  summary: 'Through cuts run without air assist.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['toolpath', 'sidecar'],
  searches: ['tasks', 'passes'],
  decides: 'hazard',
  messages: {
    off: '{length} mm of through cuts in {tasks} run with the air off, which the program switches elsewhere (M7, M8). Switch it on ahead of these cuts. Without air, smoke and flame stay in the kerf.',
    unswitched:
      'The program never switches air assist (no M7 or M8), and {tasks} must go through. See to it at the machine, or write M8 ahead of the first cut. The air has to be on by hand or by the machine.',
    unplanned:
      'No air assist is planned for {tasks}, which must go through. State `air` in the task (such as `air: 1 bar`), and switch it on.',
  },
  example:
    '300.0 mm of through cuts in "outline" run with the air off, which the program switches elsewhere (M7, M8). Switch it on ahead of these cuts. Without air, smoke and flame stay in the kerf.',
  options: {},
  why: 'Air blows molten and burnt material out of the kerf, keeps flames down and smoke off the lens. Without it the same recipe cuts less deep, chars more and can catch fire. Where the program does not handle air at all, this is a note: many machines have it on whenever they cut.',
  remedy:
    'Plan air for every through cut and have the program switch it. Some thin paper and fabric is cut with the air low: state that as planned.',
  sources: [
    'M7, M8, M9: RS274/NGC [NISTIR-6556], where they are coolant words',
    'Air assist on every through cut: common practice, no source',
  ],
  caution: FIRE,
  check(facts) {
    const cuts = facts.cuts.filter((cut) => cut.aim === 'through');
    if (cuts.length === 0) return { notApplicable: 'no cut has to go through' };
    const without = cuts.filter((cut) => cut.passes.some((pass) => !pass.air));
    const first = without[0];
    if (facts.toolpath !== null) {
      if (!facts.toolpath.switchesAir) {
        return [
          { messageId: 'unswitched', severity: 'note', args: { tasks: names(cuts) }, location: cuts[0]!.location },
        ];
      }
      if (first === undefined) return [];
      const length = mm(without.reduce((sum, cut) => sum + cut.lengthMm, 0));
      return [{ messageId: 'off', args: { length, tasks: names(without) }, location: first.location }];
    }
    if (first === undefined) return [];
    return [
      { messageId: 'unplanned', severity: 'note', args: { tasks: names(without) }, location: first.settingLocation },
    ];
  },
});

function names(cuts: readonly CutFact[]): string {
  return listed([...new Set(cuts.map((cut) => cut.task))]);
}
