import {
  artworkJob,
  drawing,
  LABEL,
  program,
  type SmallJob,
  sidecar,
  square,
  through,
  toolpathJob,
} from './small-jobs.ts';

const BARE = { machine: 'shed-60w', lens: '2in', material: 'birch-plywood', thickness: '3 mm' };
const SHEET = '{ width: 300 mm, height: 200 mm }';
const SOUND = toolpathJob(program(square()));
const PLAN = 'power: 80 %, speed: 9 mm/s, air: 1 bar';

const circle = (x: number, y: number, radius: number) =>
  `G0 X${x - radius} Y${y}\nG2 X${x + radius} Y${y} I${radius} J0\nG2 X${x - radius} Y${y} I${-radius} J0\n`;

/** Engraving lines in rows, 0.1 mm apart. */
const engraving = (x: number, y: number, rows: number) =>
  Array.from({ length: rows }, (_, i) => `G0 X${x} Y${(y + i * 0.1).toFixed(1)}\nG1 X${x + 20}\n`).join('');

/** What a careful practitioner runs every day: each exits 0, and says what was checked. */
export const ORDINARY: SmallJob[] = [
  { it: 'a sidecar without zero', files: SOUND },
  { it: 'zero at the machine', files: toolpathJob(program(square()), { zero: 'machine' }) },
  {
    it: 'zero at the corner of a declared sheet',
    files: toolpathJob(program(square()), { zero: 'sheet-corner', sheet: SHEET }),
  },
  { it: 'zero set by hand', files: toolpathJob(program(square()), { zero: 'set-by-hand', sheet: SHEET }) },
  { it: 'G54', files: toolpathJob(program(`G54\n${square()}`)) },
  {
    it: 'G54 and a declared sheet',
    files: toolpathJob(program(`G54\n${square()}`), { zero: 'sheet-corner', sheet: SHEET }),
  },
  { it: 'an acceleration by M204', files: toolpathJob(program(`M204 S1500\n${square()}`)) },
  { it: 'a speed of 100 % by M220', files: toolpathJob(program(`M220 S100\n${square()}`)) },
  { it: 'a power of 100 % by M221', files: toolpathJob(program(`M221 S100\n${square()}`)) },
  {
    it: 'acceleration and speed limits by M201 and M203',
    files: toolpathJob(program(`M201 X3000 Y3000\nM203 X500 Y500\n${square()}`)),
  },
  { it: '$32=1', files: toolpathJob(`$32=1\n${program(square())}`) },
  { it: '$30 as in the profile', files: toolpathJob(`$30=1000\n${program(square())}`) },
  { it: 'lines for the sender', files: toolpathJob(`$H\n?\n${program(square())}`) },
  { it: 'comment lines with #', files: toolpathJob(`# plant labels, row 3\n${program(square())}`) },
  { it: 'T1 and M8', files: toolpathJob(program(`T1\nM8\n${square()}`)) },
  { it: 'T1 M6 and M8, on a program without Z', files: toolpathJob(program(`T1 M6\nM8\n${square()}`)) },
  { it: 'a program between percent signs', files: toolpathJob(`%\n${program(square())}%\n`) },
  { it: 'a trailing percent sign', files: toolpathJob(`${program(square())}%\n`) },
  { it: 'M30 at the end', files: toolpathJob(program(square(), undefined, 'M5\nM9\nM30\n')) },
  { it: 'no M2 at the end', files: toolpathJob(program(square(), undefined, 'M5\nM9\n')) },
  {
    it: 'the head sent home after the cut',
    files: toolpathJob(program(square(), undefined, 'M5\nM9\nG0 X0 Y0\nM2\n')),
  },
  {
    it: 'line numbers and checksums',
    files: toolpathJob(
      program(square())
        .split('\n')
        .map((line, i) => (line === '' ? '' : `N${10 * (i + 1)} ${line}`))
        .join('\n'),
    ),
  },
  { it: 'Windows line ends', files: toolpathJob(program(square()).replaceAll('\n', '\r\n')) },
  {
    it: 'an inch program',
    files: toolpathJob('G20 G90\nM8\nM4 S800 F21\nG0 X0.5 Y0.5\nG1 X2\nG1 Y2\nG1 X0.5\nG1 Y0.5\nM5\nM9\nM2\n'),
  },
  {
    it: 'relative coordinates',
    files: toolpathJob(program('G0 X10 Y10\nG91\nG1 X40\nG1 Y40\nG1 X-40\nG1 Y-40\nG90\n')),
  },
  { it: 'round holes by arcs, inside first', files: toolpathJob(program(`${circle(30, 30, 5)}${square()}`)) },
  { it: 'a label with a hole, hole first', files: toolpathJob(program(`${square(25, 25, 10)}${square()}`)) },
  { it: 'a beam of constant power by M3', files: toolpathJob(program(square(), 'M3 S700 F540')) },
  { it: 'two passes', files: toolpathJob(program(`${square()}${square()}`, 'M4 S600 F600')) },
  {
    it: 'a decorative groove that is declared',
    files: toolpathJob(
      program(`(border)\nS200 F3600\n${square(15, 15, 30)}(outline)\nS800 F540\n${square()}`),
      {},
      `  - { name: border, aim: groove, program: { comment: border } }\n${through('program: { comment: outline }')}`,
    ),
  },
  {
    it: 'a name engraved, and the label cut out',
    files: toolpathJob(
      program(`(name)\nS200 F6000\n${engraving(20, 20, 30)}(outline)\nS800 F540\n${square()}`),
      {},
      `  - { name: name, aim: surface, program: { comment: name } }\n${through('program: { comment: outline }')}`,
    ),
  },
  {
    it: 'only an engraving',
    files: toolpathJob(
      program(`(name)\n${engraving(20, 20, 30)}`, 'M4 S200 F6000'),
      {},
      '  - { name: name, aim: surface, program: { comment: name } }\n',
    ),
  },
  { it: 'a bare toolpath with options', files: { 'label.gcode': program(square()) }, options: BARE },
  {
    it: 'a bare file named on the command line',
    files: { 'label.gcode': program(square()) },
    options: BARE,
    paths: ['label.gcode'],
  },
  { it: 'artwork with planned settings', files: artworkJob(LABEL) },
  { it: 'artwork without settings, thin enough', files: artworkJob(LABEL, {}, '') },
  { it: 'bare artwork with options, thin enough', files: { 'label.svg': drawing(LABEL) }, options: BARE },
  {
    it: 'artwork of two tasks, the groove declared',
    files: artworkJob(
      `<path id="border" d="M15 15H45V45H15Z" fill="none" stroke="#1b7837"/>${LABEL}`,
      {},
      `  - { name: border, aim: groove, strokes: { id: border }, power: 20 %, speed: 60 mm/s }\n${through('strokes: { id: outline }', PLAN)}`,
    ),
  },
  {
    it: 'toolpath and artwork that agree',
    files: {
      'label.job.yaml': sidecar(
        { toolpath: 'label.gcode', artwork: 'label.svg' },
        through('strokes: { id: outline }, program: { comment: outline }', PLAN),
      ),
      'label.gcode': program(`(outline)\n${square(9.9, 49.9, 40.2).replace(/./g, (c) => c)}`),
      'label.svg': drawing(LABEL),
    },
  },
  {
    it: 'card, quick and weak',
    files: toolpathJob(program(square(), 'M4 S600 F1800'), { material: 'card', thickness: '0.5 mm' }),
  },
  {
    it: 'cast acrylic, slow enough',
    files: toolpathJob(program(square(), 'M4 S800 F480'), { material: 'cast-acrylic', thickness: '3.0 mm ± 0.1 mm' }),
  },
  {
    it: 'a toolpath that nobody judges, in a shop that lets it pass',
    files: {
      ...SOUND,
      'draft.gcode': program(square()),
    },
    options: { unchecked: 'toolpath=note' },
    only: 'trusted',
  },
  { it: 'artwork beside it that no sidecar names', files: { ...SOUND, 'sketch.svg': drawing(LABEL) } },
  {
    it: 'a change that touches no job',
    files: { ...SOUND, 'README.md': 'labels\n', 'changed.txt': 'README.md\n' },
    options: { 'changed-files': 'changed.txt' },
  },
];
