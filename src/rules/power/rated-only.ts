import { inSidecar } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatPercent, PLUS_MINUS_SIGMAS, quoted, significant } from '../wording.ts';

export default defineRule({
  id: 'power/rated-only',
  summary: 'The power at the work was never measured.',
  severity: 'note',
  since: '0.1.0',
  oncePerRun: true,
  reads: ['machine'],
  messages: {
    rated:
      'The profile of machine {machine} states the rated {rated} W and no measured power. Measure the power at the work and state it with its date. Until then predictions carry a doubt of ± {spread} for it: nine in ten lie within it.',
  },
  example:
    'The profile of machine "shed-60w" states the rated 60 W and no measured power. Measure the power at the work and state it with its date. Until then predictions carry a doubt of ± 27.3 % for it: nine in ten lie within it.',
  options: {},
  why: 'What reaches the sheet is the rated power less mirrors, lens, age and a maker’s optimism. Without a reading the prediction has to allow for all of them. Where the material was calibrated with coupons of this very machine, its true power is in the fitted energy, and nothing is said.',
  remedy:
    'Measure at the work, at full setting or better at several settings (`source.curve`). Without a meter, coupons (`kerflint coupon`, `kerflint calibrate`) do much the same for one material. Follow the meter’s and the machine’s manual: the enclosure is open to the beam while measuring.',
  sources: ['Rated and delivered power differ by 15 % and more: common practice, no source'],
  check(facts) {
    const { machine, power } = facts;
    if (machine === null || power === null) return { notApplicable: 'the machine is not known' };
    if (power.basis !== 'rated' || facts.calibratedHere) return [];
    const args = {
      machine: quoted(machine.id),
      rated: significant(machine.source.ratedW),
      spread: formatPercent(power.spread * PLUS_MINUS_SIGMAS),
    };
    return [{ messageId: 'rated', args, location: inSidecar(facts, ['machine']), subject: machine.id }];
  },
});
