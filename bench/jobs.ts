// 1,000 jobs of 200 kB each, judged by one, two and four workers of the built command.
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { watched } from './watched.ts';

const JOBS = Number(process.env['JOBS'] ?? 1_000);
const BYTES = 200_000;
const processors = availableParallelism();

const folder = mkdtempSync(join(tmpdir(), 'kerflint-jobs-'));
try {
  mkdirSync(join(folder, 'machines'));
  copyFileSync('examples/machines/shed-60w.machine.yaml', join(folder, 'machines/shed-60w.machine.yaml'));
  writeFileSync(join(folder, '.kerflint.yaml'), 'kerflint: 1\nmachines: [machines]\n');
  for (let i = 0; i < JOBS; i++) {
    const name = `label-${String(i).padStart(4, '0')}`;
    writeFileSync(join(folder, `${name}.gcode`), program(i));
    writeFileSync(
      join(folder, `${name}.job.yaml`),
      `kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 3 mm ± 0.1 mm\nface: bare\nzero: machine\ntoolpath: ${name}.gcode\n`,
    );
  }
  const one = new Map<string, number>();
  for (const workers of [1, 2, 4, 1, 2, 4]) {
    const run = watched(['check', folder, '--workers', String(workers), '--format', 'csv']);
    if (run === null) throw new Error('kerflint did not run: "npm run build" first');
    if (workers === 1) one.set(run.stdout, Math.min(run.cpuSeconds, one.get(run.stdout) ?? Number.POSITIVE_INFINITY));
    const cpuOfOne = one.get(run.stdout);
    if (cpuOfOne === undefined) throw new Error(`${workers} workers found something else than one`);
    const threads = Math.min(workers, processors);
    // Were all processors free, the work would be shared evenly and only what is done twice would count.
    const free = ((cpuOfOne / run.cpuSeconds) * threads).toFixed(2);
    console.log(
      `${JOBS} jobs, ${workers} workers: ${run.seconds.toFixed(1)} s, ${run.cpuSeconds.toFixed(1)} CPU s (${free} × by processor time; load ${loadavg()[0]!.toFixed(1)} on ${processors} processors; exit code ${run.status})`,
    );
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}

/** Plant labels in rows, each an octagon, until the file is full. */
function program(seed: number): string {
  const lines = ['G21 G90', 'M8', 'M4 S800 F540'];
  let size = 0;
  for (let n = 0; size < BYTES; n++) {
    const [x, y] = [10 + (n % 60) * 9, 10 + (Math.floor(n / 60) % 42) * 9];
    for (let k = 0; k <= 8; k++) {
      const angle = (k * Math.PI) / 4 + seed / 1000;
      const line = `${k === 0 ? 'G0' : 'G1'} X${(x + 3 * Math.cos(angle)).toFixed(3)} Y${(y + 3 * Math.sin(angle)).toFixed(3)}`;
      lines.push(line);
      size += line.length + 1;
    }
  }
  return `${lines.join('\n')}\nM5\nM9\nM2\n`;
}
