/**
 * Moves one behind the other in one direction, summed while they come: what a raster is made of, and a stretch that the
 * head passes without slowing for corners. Pieces with and without power follow each other freely.
 */
export class StraightRun {
  open = false;
  /** Unit direction. */
  x = 0;
  y = 0;
  z = 0;
  startX = 0;
  startY = 0;
  startZ = 0;
  lengthMm = 0;
  /** Unpowered moves, and of these the ones at the feed. */
  unpoweredMm = 0;
  idleMm = 0;
  /** Powered moves. */
  pieces = 0;
  /** Sum of setting × length, mm. */
  settingMm = 0;
  /** Line of the highest setting. */
  peakLine = 0;
  maxSetting = 0;
  minSetting = 0;
  /** Speed of the first powered piece, mm/s; `mixed` when another differs. */
  speedMmPerS = 0;
  mixed = false;
  /** Where power begins, and where it last ends. */
  fromX = 0;
  fromY = 0;
  fromZ = 0;
  toX = 0;
  toY = 0;
  toZ = 0;
  /** Unpowered feed right before the first powered piece, and right after the last. */
  leadMm = 0;
  trailMm = 0;
  #trailing = false;
  firstLine = 0;
  lastLine = 0;
  flags = 0;
  label = 0;
  /** Counts when the run began, so that what was kept of it can be taken back. */
  strokesBefore = 0;
  travelsBefore = 0;
  segmentsBefore = 0;
  /** Belongs to the raster area that is open; a line of it, and not a way from line to line. */
  inArea = false;
  scan = false;

  begin(x: number, y: number, z: number, startX: number, startY: number, startZ: number): void {
    this.open = true;
    this.x = x;
    this.y = y;
    this.z = z;
    this.startX = startX;
    this.startY = startY;
    this.startZ = startZ;
    this.lengthMm = 0;
    this.unpoweredMm = 0;
    this.idleMm = 0;
    this.pieces = 0;
    this.settingMm = 0;
    this.maxSetting = 0;
    this.minSetting = Number.POSITIVE_INFINITY;
    this.speedMmPerS = 0;
    this.mixed = false;
    this.leadMm = 0;
    this.trailMm = 0;
    this.#trailing = false;
    this.inArea = false;
    this.scan = false;
  }

  /** One more piece without power. */
  idle(lengthMm: number, rapid: boolean): void {
    this.lengthMm += lengthMm;
    this.unpoweredMm += lengthMm;
    if (!rapid) this.idleMm += lengthMm;
    if (this.pieces === 0) this.leadMm = rapid ? 0 : this.leadMm + lengthMm;
    else if (rapid) this.#trailing = false;
    else if (this.#trailing) this.trailMm += lengthMm;
  }

  /** One more powered piece. */
  power(lengthMm: number, setting: number, speedMmPerS: number, line: number): void {
    if (this.pieces === 0) {
      this.speedMmPerS = speedMmPerS;
      this.firstLine = line;
    } else if (speedMmPerS !== this.speedMmPerS) this.mixed = true;
    this.pieces++;
    this.lengthMm += lengthMm;
    this.trailMm = 0;
    this.#trailing = true;
    this.settingMm += setting * lengthMm;
    if (setting > this.maxSetting) {
      this.maxSetting = setting;
      this.peakLine = line;
    }
    if (setting < this.minSetting) this.minSetting = setting;
    this.lastLine = line;
  }

  get poweredMm(): number {
    return this.lengthMm - this.unpoweredMm;
  }

  /**
   * The run is over at this point: its direction becomes that from end to end, which rounded coordinates disturb less than
   * that of its first piece.
   */
  end(x: number, y: number, z: number): void {
    this.open = false;
    const dx = x - this.startX;
    const dy = y - this.startY;
    const dz = z - this.startZ;
    const length = Math.sqrt(dx * dx + dy * dy + dz * dz);
    if (length === 0) return;
    this.x = dx / length;
    this.y = dy / length;
    this.z = dz / length;
  }
}
