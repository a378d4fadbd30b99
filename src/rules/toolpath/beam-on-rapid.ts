import { BEAM, FIRE } from '../cautions.ts';
import { inToolpath } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, formatPercent, mm } from '../wording.ts';

export default defineRule({
  id: 'toolpath/beam-on-rapid',
  summary: 'The head travels with the beam on.',
  severity: 'error',
  since: '0.1.0',
  safety: true,
  reads: ['toolpath', 'machine'],
  messages: {
    burns:
      '{rapids} ({length} mm) with the power at {setting}, and this controller does not switch the beam off on G0 (`controller.beam-off-on-rapid: false` in the machine’s profile): each leaves a line across the sheet. Set S0 or M5 ahead of every G0.',
    unknown:
      '{rapids} ({length} mm) with the power at {setting}. Whether the beam burns there is not known: the machine’s profile does not state `controller.beam-off-on-rapid`. Look it up in the controller’s manual and state it, or set S0 or M5 ahead of every G0.',
  },
  example:
    '3 rapids run (120.0 mm) with the power at 80 %, and this controller does not switch the beam off on G0 (`controller.beam-off-on-rapid: false` in the machine’s profile): each leaves a line across the sheet. Set S0 or M5 ahead of every G0.',
  options: {},
  why: 'Many controllers gate the beam on G0 and many programs rely on it; others do not, and then every travel move is a cut across the part. Which it is belongs into the machine’s profile; while it is not known this is a single note and not an alarm at every rapid.',
  remedy:
    'State `beam-off-on-rapid` in the profile’s `controller` section after looking it up in the controller’s manual. Where it is false, have the program switch the beam off ahead of each rapid.',
  sources: [
    'The behaviour comes from the machine’s profile',
    'That controllers differ in this: common practice, no source',
  ],
  caution: `${BEAM} ${FIRE}`,
  check(facts) {
    const toolpath = facts.toolpath;
    if (toolpath === null) return { notApplicable: 'the job has no toolpath' };
    const { count, lengthMm, first, setting } = toolpath.poweredRapids;
    const gated = facts.machine?.controller.beamOffOnRapid ?? null;
    if (count === 0 || first === null || gated === true) return [];
    return [
      {
        messageId: gated === false ? 'burns' : 'unknown',
        severity: gated === false ? 'error' : 'note',
        args: {
          rapids: formatCount(count, 'rapid runs', 'rapids run'),
          length: mm(lengthMm),
          setting: formatPercent(setting),
        },
        location: inToolpath(facts, first),
      },
    ];
  },
});
