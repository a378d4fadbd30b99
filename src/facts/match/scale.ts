/** Ratios that come from taking one unit for another, with what happened. */
const SLIPS: readonly { ratio: number; cause: string }[] = [
  { ratio: 25.4, cause: 'inches were taken where millimetres were meant' },
  { ratio: 1 / 25.4, cause: 'millimetres were taken where inches were meant' },
  { ratio: 96 / 72, cause: 'the drawing counts 72 px to the inch and was read at 96, or the reverse' },
  { ratio: 72 / 96, cause: 'the drawing counts 96 px to the inch and was read at 72, or the reverse' },
  { ratio: 96 / 90, cause: 'the drawing counts 90 px to the inch and was read at 96, or the reverse' },
  { ratio: 90 / 96, cause: 'the drawing counts 96 px to the inch and was read at 90, or the reverse' },
  { ratio: 90 / 72, cause: 'the drawing counts 72 px to the inch and was read at 90, or the reverse' },
  { ratio: 72 / 90, cause: 'the drawing counts 90 px to the inch and was read at 72, or the reverse' },
  { ratio: 10, cause: 'centimetres were taken for millimetres' },
  { ratio: 0.1, cause: 'millimetres were taken for centimetres' },
];

/** Scales this near to 1 are the same size: cutting tolerances are coarser. */
const SAME_SIZE = 0.002;
const SAME_RATIO = 0.003;

/** Why the toolpath has another size than the artwork, as far as the ratio tells; null when the size is the same. */
export function scaleCause(scale: number): string | null {
  if (Math.abs(scale - 1) <= SAME_SIZE) return null;
  const slip = SLIPS.find(({ ratio }) => Math.abs(scale / ratio - 1) <= SAME_RATIO);
  return (
    slip?.cause ?? 'no slip of units explains this ratio: it was scaled on purpose, or the files do not belong together'
  );
}
