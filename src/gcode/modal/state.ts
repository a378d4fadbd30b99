/** Work coordinate systems: G54 … G59, G59.1 … G59.3. */
export const SYSTEMS = ['G54', 'G55', 'G56', 'G57', 'G58', 'G59', 'G59.1', 'G59.2', 'G59.3'] as const;

export type Plane = 'XY' | 'ZX' | 'YZ';

/** What stays in force from line to line (modal state, RS274/NGC). Lengths in mm. */
export class ModalState {
  /** Tenfold motion code: 0, 10, 20, 30; −1 while a motion is in force that is not followed. */
  motion = 10;
  plane: Plane = 'XY';
  absolute = true;
  absoluteCentres = false;
  feedMode: 'per-minute' | 'inverse-time' | 'per-turn' = 'per-minute';
  /** Millimetres in one programmed unit. */
  scale = 1;
  /** Feed in force, mm/min; NaN before the first. */
  feed = Number.NaN;
  /** M220: the share of the feed that the head goes at. */
  feedShare = 1;
  /** Bits of the axes whose place in the work is known: an absolute move has named them. */
  named = 0;
  mode: 'M3' | 'M4' | 'off' = 'off';
  air = false;
  mist = false;
  tool: number | null = null;
  system = 0;
  /** Origin of each work coordinate system in the machine's frame: x, y, z. */
  readonly origins = new Float64Array(SYSTEMS.length * 3);
  /** G92: added to program coordinates besides the origin; `saved` is what G92.3 brings back. */
  readonly shift = new Float64Array(3);
  readonly saved = new Float64Array(3);

  /** Bits of the axes that stand at the machine's own zero. */
  homed = 0;

  /** Machine coordinate minus program coordinate of one axis (0 x, 1 y, 2 z). */
  offset(axis: number): number {
    return this.origins[3 * this.system + axis]! + this.shift[axis]!;
  }

  /** What M2 and M30 put back ([NISTIR-6556], 3.6.1); the beam and air go off. */
  endProgram(): void {
    this.system = 0;
    this.shift.fill(0);
    this.plane = 'XY';
    this.absolute = true;
    this.feedMode = 'per-minute';
    this.motion = 10;
    this.mode = 'off';
    this.air = false;
    this.mist = false;
  }
}
