// 10,000 jobs that all fail, each with a cut of its own that no other shares, judged with JSON and SARIF by one and by two workers.
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { watched } from './watched.ts';

const JOBS = Number(process.env['JOBS'] ?? 10_000);

const folder = mkdtempSync(join(tmpdir(), 'kerflint-failing-'));
try {
  mkdirSync(join(folder, 'machines'));
  copyFileSync('examples/machines/shed-60w.machine.yaml', join(folder, 'machines/shed-60w.machine.yaml'));
  writeFileSync(join(folder, '.kerflint.yaml'), 'kerflint: 1\nmachines: [machines]\n');
  for (let i = 0; i < JOBS; i++) {
    const name = `label-${String(i).padStart(5, '0')}`;
    writeFileSync(join(folder, `${name}.gcode`), program(i));
    writeFileSync(
      join(folder, `${name}.job.yaml`),
      `kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 6 mm ± 0.1 mm\nface: bare\nzero: machine\ntoolpath: ${name}.gcode\n`,
    );
  }
  const start = watched(['--version']);
  for (const workers of [1, 2]) {
    const formats = ['--format', `json=${join(folder, 'out.json')}`, '--format', `sarif=${join(folder, 'out.sarif')}`];
    const run = watched(['check', folder, '--workers', String(workers), ...formats]);
    if (run === null || start === null) throw new Error('kerflint did not run: "npm run build" first');
    console.log(
      `${JOBS} failing jobs, ${workers} workers: ${run.seconds.toFixed(1)} s, ${((run.cpuSeconds / JOBS) * 1000).toFixed(1)} CPU ms a job, ${Math.round(run.megabytes)} MB resident (exit code ${run.status}; load ${loadavg()[0]!.toFixed(1)}; kerflint --version takes ${start.cpuSeconds.toFixed(2)} CPU s)`,
    );
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}

/** Three squares, at one of a hundred powers and a feed of their own. */
function program(seed: number): string {
  const squares = [10, 40, 70].map((x) => {
    const right = x + 20 + (seed % 10) / 10;
    return `G0 X${x} Y10\nG1 X${right}\nG1 Y30\nG1 X${x}\nG1 Y10`;
  });
  return `G21 G90\nM8\nM3 S${700 + (seed % 100)} F${(1500 + 0.07 * seed).toFixed(2)}\n${squares.join('\n')}\nM5\nM9\nM2\n`;
}
