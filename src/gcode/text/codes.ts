/**
 * Which codes are known, and which exclude each other on one line: the modal groups of RS274/NGC ([NISTIR-6556], table 4),
 * and the common additions of later controllers. All codes are tenfold (G92.1 is 921).
 */

/** Names of the groups, as messages give them. */
export const GROUP = {
  motion: 'motion',
  plane: 'plane',
  distance: 'distance mode',
  arcDistance: 'arc centre mode',
  feedMode: 'feed mode',
  units: 'units',
  compensation: 'cutter compensation',
  toolLength: 'tool length',
  retract: 'retract level',
  system: 'work coordinate system',
  path: 'path control',
  axisWords: 'codes that use the axis words',
  beam: 'beam',
  coolant: 'coolant and air',
  stop: 'program stop',
} as const;

export type Group = (typeof GROUP)[keyof typeof GROUP];

function table(rows: [Group, number[]][]): ReadonlyMap<number, Group> {
  return new Map(rows.flatMap(([group, codes]) => codes.map((code) => [code, group] as const)));
}

/** G80 cancels a cycle; together with a motion code it is part of ordinary preambles and left out here. */
export const G_GROUPS = table([
  [
    GROUP.motion,
    [
      0, 10, 20, 30, 50, 51, 52, 53, 330, 331, 382, 383, 384, 385, 730, 740, 760, 810, 820, 830, 840, 850, 860, 870,
      880, 890,
    ],
  ],
  [GROUP.plane, [170, 180, 190]],
  [GROUP.distance, [900, 910]],
  [GROUP.arcDistance, [901, 911]],
  [GROUP.feedMode, [930, 940, 950]],
  [GROUP.units, [200, 210, 700, 710]],
  [GROUP.compensation, [400, 410, 411, 420, 421]],
  [GROUP.toolLength, [430, 431, 432, 490]],
  [GROUP.retract, [980, 990]],
  [GROUP.system, [540, 550, 560, 570, 580, 590, 591, 592, 593]],
  [GROUP.path, [610, 611, 640]],
  [GROUP.axisWords, [100, 280, 300, 920]],
]);

export const M_GROUPS = table([
  [GROUP.beam, [30, 40, 50]],
  [GROUP.stop, [0, 10, 20, 300, 600]],
]);

/** Accepted without a word: they change nothing that is followed here. */
export const QUIET_G: ReadonlySet<number> = new Set([400, 490, 610, 611, 640, 970, 980, 990, 281, 301]);

/** Canned cycles: drilling, boring, threading. */
export const CYCLES: ReadonlySet<number> = new Set([
  330, 331, 730, 740, 760, 810, 820, 830, 840, 850, 860, 870, 880, 890,
]);
export const SPLINES: ReadonlySet<number> = new Set([50, 51, 52, 53]);

/**
 * M codes that leave beam, speed and motion alone: stops, tools, motors, temperatures, fans off, messages, queries, endstops.
 * From memory of common controllers.
 */
export const QUIET_M: ReadonlySet<number> = new Set(
  [
    0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 17, 18, 30, 48, 49, 60, 61, 73, 75, 76, 77, 82, 83, 84, 85, 104, 105, 107, 108, 109,
    110, 111, 113, 114, 115, 116, 117, 118, 119, 140, 141, 190, 191, 204, 220, 300, 400, 500, 503,
  ].map((code) => code * 10),
);

/** Of these, what switches beam or air or ends the program: whether such a line runs bears on the job. */
export const SWITCHES: ReadonlySet<number> = new Set([20, 30, 40, 50, 70, 80, 90, 300, 2040, 2200]);

/** Outputs: on some machines they gate the beam. M42 sets a pin, M66 waits for one, M106 is a fan's or a beam's. From memory. */
export const OUTPUTS: ReadonlySet<number> = new Set([420, 620, 630, 640, 650, 660, 670, 680, 1060]);

/** Highest accelerations and speeds, and what a corner may jerk: they bear on the time. From memory of common controllers. */
export const MOTION_LIMITS: ReadonlySet<number> = new Set([2010, 2030, 2050]);
