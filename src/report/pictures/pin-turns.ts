/** How far the head of a pin may be turned from upright, degrees, in the order in which it is tried. */
const TURNS = [0, 50, -50, 100, -100, 150, -150];
/** The middle of the head from the tip, and how near two heads may come, px. */
export const HEAD_PX = 16;
const HEADS_APART_PX = 17;

/**
 * How far each pin is turned so that no head lies on another; null where all around it is taken: then it is drawn without a head, and
 * whoever comes closer finds it with one. Places in px.
 */
export function pinTurns(tips: readonly { x: number; y: number }[]): (number | null)[] {
  const heads: { x: number; y: number }[] = [];
  return tips.map(({ x, y }) => {
    const turn = TURNS.find((degrees) => {
      const head = headOf(x, y, degrees);
      return heads.every((other) => Math.hypot(other.x - head.x, other.y - head.y) >= HEADS_APART_PX);
    });
    if (turn === undefined) return null;
    heads.push(headOf(x, y, turn));
    return turn;
  });
}

/** Where the head of a pin lies that is turned so far, px. */
export function headOf(x: number, y: number, degrees: number): { x: number; y: number } {
  const rad = (degrees * Math.PI) / 180;
  return { x: x + HEAD_PX * Math.sin(rad), y: y - HEAD_PX * Math.cos(rad) };
}
