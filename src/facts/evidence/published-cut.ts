import type { Evidence, PublishedCut } from '../../job/evidence/evidence.ts';
import { readMachine } from '../../job/machine/machine.ts';
import type { Machine, Material, SourceKind } from '../../job/model.ts';
import type { CutInput } from '../../physics/doubt/predict.ts';
import { textSource } from '../../source/source.ts';
import { trimmed } from '../../units/format.ts';
import { cutOf, done, type Outcome, refused, setUpOf } from '../bench/set-up.ts';
import { wattsAt } from '../cuts/power.ts';

/**
 * What is taken of a machine whose source does not say: a beam and a lens that are usual for its kind (common practice, no
 * source). That each shop's differ is part of the spread between shops (docs/model.md).
 */
const USUAL: Record<SourceKind, { diameterMm: number; m2: number; focalMm: number; spot: string | null }> = {
  co2: { diameterMm: 6, m2: 1.2, focalMm: 50.8, spot: null },
  diode: { diameterMm: 4, m2: 8, focalMm: 40, spot: '0.08 mm x 0.15 mm' },
  fibre: { diameterMm: 7, m2: 1.3, focalMm: 160, spot: null },
};

/**
 * Size of the curves and straight runs of an ordinary part. A table states the speed that is set; on such a part the head goes no
 * faster than the root of its acceleration times this. No source: of 2, 3, 5, 20 mm and no bound, the one by which sources that were
 * left out are predicted best (docs/evidence.md).
 */
const FEATURE_MM = 3;

/** A published cut as kerflint would judge it: what the source states of the machine, and what is usual for the rest. */
export function inputOfPublished(evidence: Evidence, cut: PublishedCut, material: Material): Outcome<CutInput> {
  const machine = machineOf(evidence, cut);
  if (machine === null) return refused(`${evidence.id}: no machine can be made of what it says`);
  const setup = setUpOf({
    machine,
    lens: machine.lenses[0]!,
    material,
    thickness: { mm: cut.thicknessMm, plusMinusMm: null, nominal: true },
  });
  if (setup.value === null) return setup;
  const watts = wattsAt(machine, 'fraction' in cut.power ? cut.power.fraction : 1, null);
  if (watts === null) return refused(`${cut.id}: no power can be made of what ${evidence.id} says`);
  const { passes, focusMm } = cut;
  const speedMmPerS = Math.min(cut.speedMmPerS, Math.sqrt(machine.motion.accelerationMmPerS2 * FEATURE_MM));
  return done(cutOf(setup.value, { ...watts, speedMmPerS, passes, focusMm }));
}

/** The profile that a shop would write from what the source states. A stated power at the work counts as measured. */
function machineOf({ id, machine }: Evidence, cut: PublishedCut): Machine | null {
  if (machine === null) return null;
  const usual = USUAL[machine.kind];
  const { spotMm } = machine;
  const spot = spotMm === null ? usual.spot : `${plain(spotMm.xMm)} mm x ${plain(spotMm.yMm)} mm`;
  const text = `kerflint: 1
id: ${id}
source: { kind: ${machine.kind}, rated: ${plain(cut.ratedW)} W${'watts' in cut.power ? `, measured: ${plain(cut.power.watts)} W` : ''} }
beam: { diameter: ${usual.diameterMm} mm, m2: ${usual.m2} }
lenses: [{ id: lens, focal: ${plain(machine.focalMm ?? usual.focalMm)} mm${spot === null ? '' : `, spot: ${spot}`} }]
travel: { x: 600 mm, y: 400 mm }
`;
  return readMachine(textSource(`${id}.machine.yaml`, text), 'catalogue').value;
}

/** Digits as our files hold them: no exponent. */
function plain(value: number): string {
  return trimmed(value, 6);
}
