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
      '{rapids} ({length} mm) with the power at {setting}. Set S0 or M5 ahead of every G0. By the machine’s profile this controller does not switch the beam off on G0: each leaves a line across the sheet.',
    unknown:
      '{rapids} ({length} mm) with the power at {setting}. Set S0 or M5 ahead of every G0, or look up in the controller’s manual whether G0 switches the beam off and state it in the machine’s profile. Whether it burns there is not known without that.',
  },
  example:
    '3 rapids run (120.0 mm) with the power at 80 %. Set S0 or M5 ahead of every G0. By the machine’s profile this controller does not switch the beam off on G0: each leaves a line across the sheet.',
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
