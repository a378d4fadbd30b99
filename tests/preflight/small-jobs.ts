// What the small jobs of the two tables are written with: the machine is the demo's, the sheet 3 mm birch plywood unless a job says otherwise.

/** A small job by file, with what is asked of the run besides. */
export interface SmallJob {
  /** Completes the sentence "a job is not green: …" or "a job is judged: …". */
  it: string;
  files: Record<string, string>;
  /** Options of a run without sidecar, by their names on the command line, which are those of the action's inputs. */
  options?: Record<string, string>;
  /** What the run is given to check; left out: the folder. */
  paths?: string[];
  /** What files alone cannot say: links, pipes. */
  prepare?: (folder: string) => void;
  /** Only where files of strangers are judged, or only where they are not. */
  only?: 'trusted' | 'untrusted';
}

/** The facts of a sidecar, a line each; `null` leaves one out. */
export function sidecar(change: Record<string, string | null> = {}, tasks = ''): string {
  const facts: Record<string, string | null> = {
    kerflint: '1',
    machine: 'shed-60w',
    lens: '2in',
    material: 'birch-plywood',
    thickness: '3.0 mm ± 0.1 mm',
    ...change,
  };
  const lines = Object.entries(facts).flatMap(([key, value]) => (value === null ? [] : [`${key}: ${value}\n`]));
  return lines.join('') + (tasks === '' ? '' : `tasks:\n${tasks}`);
}

/** A task that must go through, with the words that choose it. */
export const through = (choose: string, rest = ''): string =>
  `  - { name: outline, aim: through, ${choose}${rest === '' ? '' : `, ${rest}`} }\n`;

/** A closed square of a plant label, 40 mm wide, from its corner. */
export const square = (x = 10, y = 10, side = 40): string =>
  `G0 X${x} Y${y}\nG1 X${x + side}\nG1 Y${y + side}\nG1 X${x}\nG1 Y${y}\n`;

/** A program around its motion: beam and feed by the words given, air on, all off at the end. */
export const program = (motion: string, beam = 'M4 S800 F540', end = 'M5\nM9\nM2\n'): string =>
  `G21 G90\nM8\n${beam}\n${motion}${end}`;

/** A drawing of 100 × 100 mm. */
export const drawing = (inside: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">${inside}</svg>`;

/** A label's outline, as a path with a stroke. */
export const LABEL = '<path id="outline" d="M10 10H50V50H10Z" fill="none" stroke="#6a3d9a" stroke-width="0.1"/>';

/** A job of a toolpath: sidecar and program. */
export function toolpathJob(
  text: string,
  change: Record<string, string | null> = {},
  tasks = '',
): Record<string, string> {
  return { 'label.job.yaml': sidecar({ toolpath: 'label.gcode', ...change }, tasks), 'label.gcode': text };
}

/** A job of artwork: sidecar and drawing, planned to be cut at 80 % and 9 mm/s unless the tasks say otherwise. */
export function artworkJob(
  inside: string,
  change: Record<string, string | null> = {},
  tasks = through('strokes: { id: outline }', 'power: 80 %, speed: 9 mm/s, air: 1 bar'),
): Record<string, string> {
  return { 'label.job.yaml': sidecar({ artwork: 'label.svg', ...change }, tasks), 'label.svg': drawing(inside) };
}
