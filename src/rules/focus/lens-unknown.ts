import { inSidecar } from '../places.ts';
import { defineRule } from '../rule.ts';
import { listed, quoted } from '../wording.ts';

export default defineRule({
  id: 'focus/lens-unknown',
  summary: 'The lens named is not one of the machine’s.',
  severity: 'error',
  since: '0.1.0',
  reads: ['sidecar', 'machine'],
  messages: {
    unknown:
      'The lens {lens} is not one of the lenses of machine {machine}. Name the lens that is fitted, or add it to the profile. By its profile the machine has {lenses}.',
  },
  example:
    'The lens "3in" is not one of the lenses of machine "shed-60w". Name the lens that is fitted, or add it to the profile. By its profile the machine has "2in", "1.5in", "4in".',
  options: {},
  why: 'Spot, depth of focus and every predicted depth depend on the lens. For a lens that is not known nothing is predicted.',
  remedy: 'Read the focal length off the lens or its holder and name it as the profile does.',
  sources: ['The lenses come from the machine’s profile'],
  check(facts) {
    const { machine, input } = facts;
    if (machine === null) return { notApplicable: 'the machine is not known' };
    const named = input.sidecar?.lens ?? null;
    if (named === null) return { notApplicable: 'no lens is named' };
    if (facts.lens !== null) return [];
    const args = {
      lens: quoted(named),
      machine: quoted(machine.id),
      lenses: listed(
        machine.lenses.map((lens) => lens.id),
        8,
      ),
    };
    return [{ messageId: 'unknown', args, location: inSidecar(facts, ['lens']) }];
  },
});
