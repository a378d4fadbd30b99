import { BEAM } from '../cautions.ts';
import { inSidecar } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatPercent, quoted, roundTo } from '../wording.ts';

export default defineRule({
  id: 'power/uneven-bed',
  summary: 'Much less power arrives at the far corner of the bed than at the near one.',
  severity: 'warning',
  since: '0.1.0',
  oncePerRun: true,
  reads: ['machine'],
  messages: {
    uneven:
      'At the far corner of machine {machine} only {share} of the near corner’s power arrives. Have the mirrors cleaned and aligned, or place the job at the near corner. Below {limit} cuts fail there that pass near the start.',
  },
  example:
    'At the far corner of machine "shed-60w" only 80 % of the near corner’s power arrives. Have the mirrors cleaned and aligned, or place the job at the near corner. Below 90 % cuts fail there that pass near the start.',
  options: {
    share: {
      type: 'number',
      default: 0.9,
      minimum: 0,
      maximum: 1,
      description: 'Least share of the near corner’s power that is ordinary.',
    },
  },
  why: 'The beam grows on its way and clips at mirrors that are out of line; the loss is largest where the way is longest. The prediction takes the cut’s place on the bed into account; this finding says that the cause can be put right.',
  remedy:
    'Clean and align the mirrors by the machine’s manual, measure all corners and state `source.at-corners` anew.',
  sources: ['The share comes from the machine’s profile', 'The limit of 90 %: common practice, no source'],
  caution: BEAM,
  check(facts, options) {
    const machine = facts.machine;
    if (machine === null) return { notApplicable: 'the machine is not known' };
    const share = machine.source.atCorners;
    if (share === null) return { notApplicable: 'the machine’s profile states no power at the corners' };
    if (!(roundTo(share, 4) < options.share)) return [];
    const args = { machine: quoted(machine.id), share: formatPercent(share), limit: formatPercent(options.share) };
    return [{ messageId: 'uneven', args, location: inSidecar(facts, ['machine']), subject: machine.id }];
  },
});
