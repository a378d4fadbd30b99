import { FIRE } from '../cautions.ts';
import { relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, roundTo, significant } from '../wording.ts';

export default defineRule({
  id: 'toolpath/heat-crowding',
  summary: 'Many cuts follow each other within a small patch of the sheet.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['toolpath', 'machine', 'sidecar'],
  searches: ['tasks'],
  decides: 'hazard',
  messages: {
    crowded:
      '{places} of the sheet {take} cut after cut without a rest; the worst, at X{x} Y{y}, gets {energy} J/mm² in {seconds} s from {cuts} cuts. Spread the order over the sheet, or go in two rounds. Above {limit} J/mm² heat gathers there.',
    place: 'crowded as well',
  },
  example:
    '2 patches of the sheet take cut after cut without a rest; the worst, at X25 Y25, gets 4.32 J/mm² in 20 s from 9 cuts. Spread the order over the sheet, or go in two rounds. Above 2 J/mm² heat gathers there.',
  options: {
    energy: {
      type: 'number',
      default: 2,
      unit: 'J/mm²',
      minimum: 0,
      description: 'Energy per area of a patch of 10 mm by 10 mm from which it counts as crowded.',
    },
    rest: {
      type: 'number',
      default: 60,
      unit: 's',
      minimum: 0,
      description: 'When the cuts of a patch are spread over a longer time than this, heat has time to leave.',
    },
  },
  why: 'Each cut leaves part of its energy in the sheet around it. Where many run side by side in quick order, acrylic softens and crazes, wood dries out and flares, thin webs curl into the head. Ordinary hinges stay below the limit.',
  remedy: 'Have the program jump between distant places, raise the speed, or put a pause between rounds.',
  sources: ['Spreading cuts over the sheet: common practice, no source', 'The limits: common practice, no source'],
  caution: FIRE,
  check(facts, options) {
    if (facts.order === null) return { notApplicable: 'the job has no toolpath' };
    const crowded = facts.order.crowded.filter(
      (one) => roundTo(one.jPerMm2, 3) > options.energy && roundTo(one.withinS, 1) <= options.rest,
    );
    const worst = crowded.reduce((most, one) => (one.jPerMm2 > most.jPerMm2 ? one : most), crowded[0]!);
    if (worst === undefined) return [];
    return [
      {
        messageId: 'crowded',
        args: {
          places: formatCount(crowded.length, 'patch', 'patches'),
          take: crowded.length === 1 ? 'takes' : 'take',
          x: roundTo(worst.x, 1),
          y: roundTo(worst.y, 1),
          energy: significant(worst.jPerMm2),
          seconds: significant(worst.withinS),
          cuts: worst.cuts,
          limit: options.energy,
        },
        location: worst.location,
        related: relatedPlaces(
          crowded.filter((one) => one !== worst).map((one) => one.location),
          'place',
        ),
      },
    ];
  },
});
