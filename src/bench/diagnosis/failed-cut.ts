import { groundsOf } from '../../facts/coupons/grounds.ts';
import { beamOf, upsideDownBeamOf, widestAcross } from '../../facts/cuts/optics.ts';
import type { Library } from '../../job/files/library.ts';
import type { Lens, Machine, Material } from '../../job/model.ts';
import type { FailedCut } from '../../physics/diagnosis/ways.ts';
import type { CutInput } from '../../physics/doubt/predict.ts';

/** Families whose sheets are taken for one another (common practice). */
const ALIKE: readonly (readonly Material['family'][])[] = [
  ['plywood', 'wood', 'board'],
  ['acrylic', 'plastic'],
  ['leather', 'textile'],
];
/** Families whose sheets may have glue or knots inside that nobody sees. */
const GLUED: readonly Material['family'][] = ['plywood', 'wood', 'board'];

/** What stood on the machine when a cut failed. */
interface Stood {
  cut: CutInput;
  machine: Machine;
  lens: Lens;
  material: Material;
  /** See {@link materialsAlike}. */
  alike: readonly Material[];
}

/** A failed cut with what may have been in its place: the machine's other lenses, its own upside down, sheets that look alike. */
export function failedCut({ cut, machine, lens, material, alike }: Stood): FailedCut {
  const kind = machine.source.kind;
  const hidden = material.traits.hiddenGlue ? 'hidden' : 'usual';
  return {
    cut,
    source: kind,
    glue: material.traits.hiddenGlue || GLUED.includes(material.family) ? hidden : 'none',
    upsideDown: upsideDownOf(machine, lens),
    otherLenses: machine.lenses.flatMap((other) => {
      const { beam } = beamOf(machine, other);
      if (other.id === lens.id || beam === null) return [];
      return { id: other.id, beam: widestAcross(beam), longerMm: other.focalMm - lens.focalMm };
    }),
    otherMaterials: alike.flatMap((other) => {
      const stock = groundsOf(machine, lens, other)?.stock;
      if (stock === undefined || other.sources[kind] !== 'cuts') return [];
      return { id: other.id, stock, kerfThresholdJPerMm2: other.kerfThresholdJPerMm2 };
    }),
  };
}

function upsideDownOf(machine: Machine, lens: Lens): FailedCut['upsideDown'] {
  const beam = upsideDownBeamOf(machine, lens);
  // A best-form lens is as good as a meniscus and flatter: it turns like a plano-convex one.
  return beam && { beam: widestAcross(beam), shape: lens.shape === 'meniscus' ? 'meniscus' : 'plano-convex' };
}

/** Other materials of which sheets of this thickness are sold that look like this one's, in the order of their ids. */
export function materialsAlike(material: Material, thicknessMm: number, library: Library): Material[] {
  const families = ALIKE.find((group) => group.includes(material.family)) ?? [material.family];
  return library.ids().materials.flatMap((id) => {
    const { value } = library.material(id);
    if (value === null || value.id === material.id || !families.includes(value.family)) return [];
    return thicknessMm >= value.thicknessMm.min && thicknessMm <= value.thicknessMm.max ? value : [];
  });
}
