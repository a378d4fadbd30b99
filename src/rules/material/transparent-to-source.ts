import { SOURCE_NAMES } from '../../facts/types.ts';
import { BEAM } from '../cautions.ts';
import { defineRule } from '../rule.ts';
import { formatPercent, inSentence, listed } from '../wording.ts';

export default defineRule({
  id: 'material/transparent-to-source',
  summary: 'The beam goes through the material without doing anything to it, or does so in some of its colours.',
  severity: 'error',
  since: '0.1.0',
  reads: ['material', 'machine', 'sidecar'],
  messages: {
    transparent:
      'A {kind} beam of {wavelength} µm passes {material} almost unspent: {tasks} will leave nothing in the sheet. Use a source that this material absorbs, or an opaque sheet. The light goes on to the bed. The reason: {reason}.',
    onlyIf:
      'A {kind} beam of {wavelength} µm cuts {material} only if it is {condition}. Cut a coupon of this very sheet first, or take a source that every such sheet absorbs. What passes goes on to the bed.',
  },
  forCustomers: { transparent: [] },
  example:
    'A diode beam of 0.45 µm passes clear acrylic almost unspent: "labels" will leave nothing in the sheet. Use a source that this material absorbs, or an opaque sheet. The light goes on to the bed. The reason: clear PMMA passes 450 nm light (1/e depth 160-206 mm): the beam goes on to what lies beneath.',
  options: {},
  why: 'Clear acrylic lets about nine tenths of blue diode light pass through 3 mm, and glass more. The sheet stays as it is, and the beam heats what lies below it. No speed and no number of passes change that. Where the sheet is only to be marked it is a warning. Coloured acrylic is cut by a diode only where the colour takes up its light: black and dark sheet does, clear, light, blue and violet sheet does not. Nobody but the workshop can see the colour, so it is a note.',
  remedy:
    'Take an opaque, dark sheet, or a CO₂ source for clear acrylic. A coating that absorbs makes the surface markable and does not make the sheet cut.',
  sources: [
    'Absorption of PMMA at 450 nm (1/e depth 160–206 mm), so about 90 % of the light passes 3 mm: computed from n and k of [REFRACTIVEINDEX]',
    'A diode does nothing to clear stock, and cuts black and dark acrylic: common practice, no source',
    'Which colours of acrylic pass light of 450 nm: memory',
  ],
  caution: BEAM,
  check(facts) {
    const { material, machine } = facts;
    if (material === null) return { notApplicable: 'the material is not known' };
    if (machine === null) return { notApplicable: 'the machine is not known' };
    const kind = machine.source.kind;
    const condition = material.sourceConditions[kind];
    const passes = material.sources[kind] === 'does-not-absorb';
    if (!passes && condition === undefined) return [];
    const first = facts.tasks[0];
    if (first === undefined) return { notApplicable: 'no task says what the beam is to do' };
    const beam = {
      kind: SOURCE_NAMES[kind],
      wavelength: machine.source.wavelengthUm,
      material: inSentence(material.name),
    };
    if (!passes) {
      return [
        {
          messageId: 'onlyIf',
          severity: 'note',
          args: { ...beam, condition: condition ?? '' },
          location: first.location,
        },
      ];
    }
    const passed = material.transmits[kind];
    const reason =
      material.sourceReasons[kind] ??
      (passed === undefined ? 'by the material’s entry' : `${formatPercent(passed)} of it passes through 3 mm`);
    return [
      {
        messageId: 'transparent',
        severity: facts.tasks.every((task) => task.aim === 'surface') ? 'warning' : 'error',
        args: { ...beam, reason, tasks: listed(facts.tasks.map((task) => task.name)) },
        location: first.location,
      },
    ];
  },
});
