import type { FileNote } from '../files/problem.ts';
import type { HazardClass, Material, SourceKind, SourceVerdict } from '../model.ts';

/** How bad a class is: the higher, the worse. */
export const HAZARD_RANK: Record<HazardClass, number> = { usual: 0, extract: 1, reconsider: 2, never: 3 };
const VERDICT_RANK: Record<SourceVerdict, number> = { cuts: 0, 'marks-only': 1, 'does-not-absorb': 2 };
const KINDS: readonly SourceKind[] = ['co2', 'diode', 'fibre'];

/** The material with the worse of the two hazards; null when its own is as bad already. */
export function raiseHazard(material: Material, other: Material): Material | null {
  if (HAZARD_RANK[other.hazard.class] <= HAZARD_RANK[material.hazard.class]) return null;
  return { ...material, hazard: other.hazard };
}

/** What a raised hazard says: which file holds to it. */
export function hazardNote(material: Material, other: Material): FileNote {
  const text = `${material.file} calls "${material.id}" ${material.hazard.class}; ${other.file} knows it as ${other.hazard.class}: a hazard only rises`;
  return { place: material.placeOf(['hazard', 'class']), text };
}

/**
 * The trusted material with what an untrusted file of the same name says more strictly: a worse hazard, a source that does
 * not cut it, a higher removal energy, a higher clean-speed floor, traits that call for care. Nothing else of it counts.
 */
export function tightenMaterial(trusted: Material, beside: Material): { material: Material; note: FileNote } {
  const counted: string[] = [];
  let material = trusted;
  const raised = raiseHazard(trusted, beside);
  if (raised) {
    material = raised;
    counted.push('hazard');
  }
  for (const kind of KINDS) {
    if (VERDICT_RANK[beside.sources[kind]] > VERDICT_RANK[trusted.sources[kind]]) {
      material = { ...material, sources: { ...material.sources, [kind]: beside.sources[kind] } };
      const reason = beside.sourceReasons[kind];
      if (reason !== undefined)
        material = { ...material, sourceReasons: { ...material.sourceReasons, [kind]: reason } };
      counted.push(`verdict for ${kind}`);
    }
    const floor = beside.cleanSpeedMmPerS[kind];
    const known = trusted.cleanSpeedMmPerS[kind];
    if (floor !== null && (known === null || floor > known)) {
      material = { ...material, cleanSpeedMmPerS: { ...material.cleanSpeedMmPerS, [kind]: floor } };
      counted.push(`clean speed for ${kind}`);
    }
  }
  if (beside.removal && trusted.removal && beside.removal.jPerMm3 > trusted.removal.jPerMm3) {
    // The spread stays at least the trusted one: a narrow one would feign certainty.
    const spread = Math.max(beside.removal.spread, trusted.removal.spread);
    const { coupons } = trusted.removal;
    const raisedBy = (trusted.removal.raisedBy * beside.removal.jPerMm3) / trusted.removal.jPerMm3;
    material = { ...material, removal: { ...beside.removal, spread, coupons, raisedBy } };
    counted.push('removal energy');
  }
  const careful = (['mirrored', 'hiddenGlue', 'bareMetal', 'formaldehyde'] as const).filter(
    (trait) => beside.traits[trait] && !trusted.traits[trait],
  );
  if (careful.length > 0) {
    const traits = { ...material.traits };
    for (const trait of careful) traits[trait] = true;
    material = { ...material, traits };
    counted.push('traits');
  }
  const what =
    counted.length === 0
      ? 'nothing in it is stricter, so it is left aside'
      : `it counts only where it is stricter: ${counted.join(', ')}`;
  const text = `"${trusted.id}" of ${trusted.file} stands over ${beside.file}: ${what}`;
  return { material, note: { place: beside.placeOf(['id']), text } };
}
