import { cpSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { checkOptions } from './programs.ts';
import { type Watched, watchedNode } from './watched.ts';

// What starting up costs: whole processes in turn, so that what else the machine does falls on all of them; medians, by the clock and by
// processor time. START_UPS sets another number of runs.

const START_UPS = Number(process.env['START_UPS'] ?? 25);
const BARE = 'node -e 0';
const DEMO = join('examples', 'gate-sign.job.yaml');

/** A kilobyte of program, nine plates with a hole each. */
function smallProgram(): string {
  const path = join(tmpdir(), 'kerflint-bench-small.gcode');
  const plates = Array.from({ length: 9 }, (_, i) => plate(20 + (i % 3) * 60, 20 + Math.floor(i / 3) * 40));
  writeFileSync(path, `G21 G90\nM3 S0 F600\n${plates.join('')}M5\nM2\n`);
  return path;
}

/** A hole, then the rectangle around it. */
function plate(x: number, y: number): string {
  const hole = `G0 X${x + 15} Y${y + 15}\nG2 X${x + 15} Y${y + 15} I10 J0 S800\n`;
  return `${hole}G0 X${x} Y${y}\nG1 X${x + 50} S800\nG1 Y${y + 30}\nG1 X${x}\nG1 Y${y}\n`;
}

/** The built command in a folder of its own, without the compiled form of the program. */
function withoutCompiledForm(folder: string): string {
  cpSync('dist', join(folder, 'dist'), { recursive: true });
  rmSync(join(folder, 'dist', 'parts', 'program.cache'), { force: true });
  for (const name of ['data', 'package.json']) symlinkSync(join(process.cwd(), name), join(folder, name));
  return join(folder, 'dist', 'kerflint.js');
}

function median(runs: readonly Watched[], of: (run: Watched) => number): number {
  return runs.map(of).sort((a, b) => a - b)[runs.length >> 1]!;
}

const folder = mkdtempSync(join(tmpdir(), 'kerflint-bench-start-'));
try {
  const command = join('dist', 'kerflint.js');
  const small = smallProgram();
  const subjects: Record<string, string[]> = {
    [BARE]: ['-e', '0'],
    'one kilobyte of program': [command, 'check', small, ...checkOptions('3 mm')],
    'the same, with remedies to find': [command, 'check', small, ...checkOptions('6 mm')],
    'demo job: toolpath, artwork, sidecar': [command, 'check', DEMO],
    'demo job, without the compiled form': [withoutCompiledForm(folder), 'check', DEMO],
  };
  const runs = new Map<string, Watched[]>(Object.keys(subjects).map((name) => [name, []]));
  for (let i = 0; i < START_UPS; i++) {
    for (const [name, argv] of Object.entries(subjects)) {
      const run = watchedNode(argv);
      if (run === null) throw new Error(`${name} did not run: is it built?`);
      runs.get(name)!.push(run);
    }
  }
  const [bareS, bareCpuS] = [median(runs.get(BARE)!, (r) => r.seconds), median(runs.get(BARE)!, (r) => r.cpuSeconds)];
  console.log(`Start-up, medians of ${START_UPS} in turn\n\n| | s | × | CPU s | CPU × |\n|---|---|---|---|---|`);
  for (const [name, of] of runs) {
    const [s, cpuS] = [median(of, (r) => r.seconds), median(of, (r) => r.cpuSeconds)];
    console.log(
      `| ${name} | ${s.toFixed(3)} | ${(s / bareS).toFixed(2)} | ${cpuS.toFixed(3)} | ${(cpuS / bareCpuS).toFixed(2)} |`,
    );
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
