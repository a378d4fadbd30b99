import { BEAM, FIRE } from '../cautions.ts';
import { inToolpath } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatPercent } from '../wording.ts';

export default defineRule({
  id: 'toolpath/beam-left-on',
  summary: 'The program ends with the beam on.',
  severity: 'error',
  since: '0.1.0',
  safety: true,
  reads: ['toolpath', 'machine'],
  messages: {
    left: 'The program ends with {mode} and the power at {setting} in force. End it with M5 (and M2 or M30). The beam may burn on in one place: {why}.',
    unknown:
      'The program ends with {mode} and the power at {setting} in force. End it with M5 (and M2 or M30), or state in the machine’s profile whether the beam goes off when the head stops. Whether it burns on in one place is not known without that.',
  },
  example:
    'The program ends with M3 and the power at 70 % in force. End it with M5 (and M2 or M30). The beam may burn on in one place: neither M5 nor M2 nor M30 ends it.',
  options: {},
  why: 'A beam that stays on over one spot goes through the sheet, heats the bed and sets fire to what lies there, often when the person has already turned away. Many controllers switch it off at the program’s end or when the head stands still under M4; nothing switches it off when a file simply stops under M3. Where it is not known what the controller does, it is a note.',
  remedy:
    'Put M5 at the end of the program, ahead of M2 or M30. State `beam-off-when-stopped` in the machine’s profile after looking it up in the controller’s manual.',
  sources: [
    'M2 and M30 stop the spindle, as M5 does: RS274/NGC [NISTIR-6556]',
    'That laser controllers differ in this: common practice, no source',
  ],
  caution: `${BEAM} ${FIRE}`,
  check(facts) {
    const toolpath = facts.toolpath;
    if (toolpath === null) return { notApplicable: 'the job has no toolpath' };
    const { place, stated, beam, setting } = toolpath.end;
    if (beam.mode === 'off' || setting <= 0) return [];
    const gated = facts.machine?.controller.beamOffWhenStopped ?? null;
    if (gated === true && (stated || beam.mode === 'on-in-motion')) return [];
    const location = inToolpath(facts, place);
    const args = { mode: beam.word, setting: formatPercent(setting) };
    if (gated === null) return [{ messageId: 'unknown', severity: 'note', args, location }];
    const why = gated
      ? 'neither M5 nor M2 nor M30 ends it'
      : 'by the machine’s profile this controller does not switch it off when the head stops';
    return [{ messageId: 'left', args: { ...args, why }, location }];
  },
});
