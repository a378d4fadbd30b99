import type { JobFacts } from '../../facts/facts.ts';
import type { Location } from '../../facts/types.ts';
import { isAssumed, SCALE_IN_DOUBT } from '../machine.ts';
import { inToolpath } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatMoney, formatPercent, formatTime, roundTo, significant } from '../wording.ts';

export default defineRule({
  id: 'power/above-recommended',
  summary: 'The source is driven above its recommended maximum.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['toolpath', 'sidecar', 'machine', 'prediction'],
  searches: ['tasks', 'passes'],
  messages: {
    above:
      'The job sets {setting} of full power, above the recommended maximum of {ceiling}. Set {ceiling} and slow down to about {slower} of the speed. Above the maximum in the machine’s profile the tube ages faster{cost}.',
    assumed:
      'The job sets {setting} of full power. Look up the recommended maximum of the tube and state it in the machine’s profile, which states none. A maximum of {ceiling} is assumed, as usual for glass tubes: above it they age faster.',
  },
  example:
    'The job sets 95 % of full power, above the recommended maximum of 85 %. Set 85 % and slow down to about 89.5 % of the speed. Above the maximum in the machine’s profile the tube ages faster than the 2000 h it is priced for (at that life this job’s 3 min 6 s of beam cost 0.01 EUR).',
  options: {
    slack: {
      type: 'number',
      default: 0.005,
      minimum: 0,
      maximum: 0.5,
      description: 'Excess, as a share of full, that is taken for rounding.',
    },
  },
  why: 'A glass tube driven near its limit loses gas and mirror coating fast: a tenth more power is paid for with a good part of its life, and the power sinks from job to job. The last few watts are better replaced by a slower speed. Where the profile states no maximum, 85 % is assumed of a CO₂ source, as usual for a glass tube; to be above that is a note.',
  remedy:
    'Stay at the ceiling and lower the speed in proportion. If the maker’s limit is higher, correct `source.ceiling`.',
  sources: [
    'The ceiling comes from the machine’s profile; tube price and life from its `rates`',
    'The assumed 85 %: memory',
    'That tubes age faster near full power: common practice, no source',
  ],
  check(facts, options) {
    const machine = facts.machine;
    if (machine === null) return { notApplicable: 'the machine is not known' };
    const ceiling = machine.source.ceiling;
    if (ceiling === null) return { notApplicable: 'the machine’s profile states no ceiling' };
    if (facts.scaleDoubt !== null) return SCALE_IN_DOUBT;
    const highest = highestSetting(facts);
    if (highest === null || !(roundTo(highest.setting, 4) > roundTo(ceiling + options.slack, 4))) return [];
    // Beyond full the other rule speaks, and nothing is known of the power that comes.
    if (roundTo(highest.setting, 4) > 1 + options.slack) return [];
    if (isAssumed(machine, 'source.ceiling')) {
      const args = { setting: formatPercent(highest.setting), ceiling: formatPercent(ceiling) };
      return [{ messageId: 'assumed', severity: 'note', args, location: highest.location }];
    }
    return [
      {
        messageId: 'above',
        args: {
          setting: formatPercent(highest.setting),
          ceiling: formatPercent(ceiling),
          cost: tubeCost(facts),
          slower: formatPercent(ceiling / highest.setting),
        },
        location: highest.location,
        data: { setting: highest.setting, ceiling },
      },
    ];
  },
});

function highestSetting(facts: JobFacts): { setting: number; location: Location } | null {
  const programmed = facts.toolpath?.highestSetting ?? null;
  let highest =
    programmed === null ? null : { setting: programmed.value, location: inToolpath(facts, programmed.place) };
  for (const cut of facts.cuts) {
    for (const { setting } of cut.passes) {
      if (highest === null || setting > highest.setting + 1e-9) highest = { setting, location: cut.settingLocation };
    }
  }
  return highest;
}

/** What the job's beam time costs in tube life at its rated price, where the profile tells and it is a cent or more. */
function tubeCost(facts: JobFacts): string {
  const tube = facts.machine?.rates.tube ?? null;
  const time = facts.time;
  if (tube === null || time === null || !(tube.lifeH > 0)) return '';
  const beamS = time.cuttingS + time.rasterS;
  const cost = (tube.price.amount / tube.lifeH) * (beamS / 3600);
  const spent = `(at that life this job’s ${formatTime(beamS)} of beam cost ${formatMoney({ amount: cost, currency: tube.price.currency })})`;
  return ` than the ${significant(tube.lifeH)} h it is priced for${cost < 0.005 ? '' : ` ${spent}`}`;
}
