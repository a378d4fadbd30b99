import { burningDwells } from '../../facts/dwells/burning.ts';
import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { FIRE } from '../cautions.ts';
import { inToolpath, relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { atLeast, formatPercent, formatTime } from '../wording.ts';

export default defineRule({
  id: 'toolpath/dwell-burn',
  summary: 'The head stands still with the beam on.',
  severity: 'error',
  since: '0.1.0',
  safety: true,
  reads: ['toolpath', 'machine'],
  searches: ['dwells'],
  decides: 'hazard',
  messages: {
    burns:
      'The head stands still {span} under {mode} with the power at {setting}{more}. Switch the beam off (M5 or S0) ahead of the dwell. The beam burns a hole there and can set the sheet alight: {why}, and a pierce takes no longer than {pierce} s.',
    unknown:
      'The head stands still {span} under {mode} with the power at {setting}{more}. Switch the beam off (M5 or S0) ahead of the dwell, or state in the machine’s profile whether it goes off when the head stops. A pierce takes no longer than {pierce} s; whether the beam burns there is not known.',
    place: 'here as well',
  },
  example:
    'The head stands still for 2.5 s under M3 with the power at 70 % (the longest of 2). Switch the beam off (M5 or S0) ahead of the dwell. The beam burns a hole there and can set the sheet alight: a dwell under M3 is not gated, and a pierce takes no longer than 0.3 s.',
  options: {
    pierce: {
      type: 'number',
      default: 0.3,
      unit: 's',
      minimum: 0,
      description: 'Longest dwell that is taken for a deliberate pierce.',
    },
  },
  why: 'Energy per area grows without limit while the head stands. A second at cutting power is enough to light wood, and the P word is seconds on some controllers and milliseconds on others. Under M4 many controllers switch the beam off when the head stops; under M3 it burns on. Where it is not known what the controller does, it is a note.',
  remedy:
    'Put M5 (or S0) ahead of the G4 and switch on again after it. If the dwell is there for air or fumes, place it ahead of the first M3 or M4.',
  sources: [
    'G4 P is in seconds: RS274/NGC [NISTIR-6556]',
    'That a dwell under M3 burns and under M4 is gated by many controllers: common practice, no source',
    'The length of a pierce: common practice, no source',
  ],
  caution: FIRE,
  check(facts, options) {
    const toolpath = facts.toolpath;
    if (toolpath === null) return { notApplicable: 'the job has no toolpath' };
    const gated = facts.machine?.controller.beamOffWhenStopped ?? null;
    const burning = burningDwells(toolpath, gated, options.pierce);
    const all = burning.items;
    const longest = all.reduce((most, dwell) => (standing(dwell) > standing(most) ? dwell : most), all[0]!);
    if (longest === undefined) return [];
    const args = {
      span: longest.pause ? 'until somebody presses a button (M0 or M1)' : `for ${formatTime(longest.seconds)}`,
      mode: longest.beam.word,
      setting: formatPercent(longest.setting),
      more: all.length > 1 ? ` (the longest of ${atLeast(burning, String(all.length))})` : '',
      pierce: options.pierce,
    };
    const common: Pick<ReportDescriptor, 'location' | 'related'> = {
      location: inToolpath(facts, longest.place),
      related: relatedPlaces(
        all.filter((dwell) => dwell !== longest).map((dwell) => inToolpath(facts, dwell.place)),
        'place',
      ),
    };
    if (gated === null) return [{ messageId: 'unknown', severity: 'note', args, ...common }];
    const why = gated
      ? 'a dwell under M3 is not gated'
      : 'by the machine’s profile this controller does not switch the beam off when the head stops';
    return [{ messageId: 'burns', args: { ...args, why }, ...common }];
  },
});

/** How long the head stands, s; a pause lasts as long as somebody takes. */
function standing(dwell: { seconds: number; pause: boolean }): number {
  return dwell.pause ? Number.POSITIVE_INFINITY : dwell.seconds;
}
