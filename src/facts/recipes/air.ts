import type { Machine, Material } from '../../job/model.ts';

/** Air assist for a through cut where nothing else is said, bar (common practice, no source). */
const USUAL_BAR = 1;
/** A strong jet blows light sheet about, fans a flame in foam, and roughens the edge of acrylic (common practice, no source). */
const GENTLE_BAR: Partial<Record<Material['family'], number>> = {
  acrylic: 0.3,
  paper: 0.3,
  textile: 0.3,
  foam: 0.5,
};

/** The air assist to begin with, no more than the machine's supply gives; null where its profile says nothing of that. */
export function airBar({ air }: Machine, { family }: Material): number | null {
  const maximumBar = air?.maximumBar ?? null;
  return maximumBar === null ? null : Math.min(maximumBar, GENTLE_BAR[family] ?? USUAL_BAR);
}
