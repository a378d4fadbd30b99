import { spawnSync } from 'node:child_process';
import { closeSync, createReadStream, openSync, readSync, statSync } from 'node:fs';
import { createInterface } from 'node:readline';
import { parseLine } from 'gcode-parser';
import { readToolpath } from '../src/gcode/read.ts';
import { Scanner } from '../src/gcode/text/scan.ts';
import type { ToolpathOptions } from '../src/model/reader.ts';
import type { Source } from '../src/source/source.ts';
import { checkOptions, rasterFile, vectorFile } from './programs.ts';
import { watched } from './watched.ts';

// Side by side in one run, each in a process of its own: time around the work (start-up not counted), the best of
// three, and peak memory.

const OPTIONS: ToolpathOptions = {
  power: { word: 'S', full: 1000 },
  m4: 'scaled-with-speed',
  arcToleranceMm: 0.5,
  rapidMmPerS: 600,
  speedMmPerS: 500,
  accelerationMmPerS2: 3000,
  cornerDeviationMm: 0.02,
  airDelayS: 0.5,
  harmless: new Set(),
  blockDelete: null,
  spotMm: 0.15,
};

/** A file as a source: one reused buffer, as the command line reads it. */
function fileSource(path: string): Source {
  return {
    name: path,
    size: statSync(path).size,
    *chunks() {
      const file = openSync(path, 'r');
      const buffer = new Uint8Array(1 << 18);
      try {
        for (;;) {
          const length = readSync(file, buffer, 0, buffer.length, null);
          if (length === 0) return;
          yield buffer.subarray(0, length);
        }
      } finally {
        closeSync(file);
      }
    },
  };
}

const PARSER = 'gcode-parser parseLine over readline';

const SUBJECTS: Record<string, (path: string) => unknown> = {
  'newline count': (path) => {
    let count = 0;
    for (const chunk of fileSource(path).chunks()) for (let i = 0; i < chunk.length; i++) if (chunk[i] === 10) count++;
    return count;
  },
  [PARSER]: async (path) => {
    let words = 0;
    for await (const line of createInterface({ input: createReadStream(path), crlfDelay: Number.POSITIVE_INFINITY })) {
      words += parseLine(line).words.length;
    }
    return words;
  },
  'gcode-interpreter': async (path) => {
    const { default: Interpreter } = await import('gcode-interpreter');
    let moves = 0;
    const count = () => {
      moves++;
    };
    const runner = new Interpreter({ handlers: { G0: count, G1: count, G2: count, G3: count } });
    await new Promise((resolve) => runner.loadFromStream(createReadStream(path, 'utf8'), resolve));
    return moves;
  },
  'gcode-toolpath': async (path) => {
    const { default: Toolpath } = await import('gcode-toolpath');
    let moves = 0;
    const count = () => {
      moves++;
    };
    const runner = new Toolpath({ addLine: count, addArcCurve: count });
    await new Promise((resolve) => runner.loadFromStream(createReadStream(path, 'utf8'), resolve));
    return moves;
  },
  'kerflint scan': (path) => {
    let words = 0;
    const scanner = new Scanner({
      words: () => {
        words++;
      },
      odd: () => undefined,
      tooLong: () => undefined,
    });
    scanner.scan(fileSource(path));
    return words;
  },
  'kerflint scan + interpret': (path) => {
    const toolpath = readToolpath(fileSource(path), OPTIONS);
    return `${toolpath.moves} moves, ${toolpath.strokes.count} strokes, ${toolpath.areas.length} areas`;
  },
};

const CHECK = 'kerflint check';
/** What runs on 500 MB too; the reference libraries would hold over ten gigabytes, or tell nothing new. */
const LARGE = ['newline count', 'kerflint scan', 'kerflint scan + interpret', CHECK];

interface Row {
  seconds: number;
  /** Processor time of all threads. */
  cpuSeconds: number;
  megabytes: number;
  answer: string;
}

/** One subject in this process: prints its row as JSON. */
async function measure(subject: string, path: string): Promise<void> {
  const before = process.cpuUsage();
  const start = process.hrtime.bigint();
  const answer = await SUBJECTS[subject]!(path);
  const seconds = Number(process.hrtime.bigint() - start) / 1e9;
  const { user, system } = process.cpuUsage(before);
  const cpuSeconds = (user + system) / 1e6;
  console.log(
    JSON.stringify({ seconds, cpuSeconds, megabytes: process.resourceUsage().maxRSS / 1024, answer: String(answer) }),
  );
}

/** The best of three runs; one is enough where the others would not change the picture. */
function best(once: () => Row | null): Row | null {
  let row = once();
  for (let i = 1; row !== null && row.seconds < 12 && i < 3; i++) {
    const again = once();
    if (again && again.seconds < row.seconds) row = again;
  }
  return row;
}

/** Runs one subject in a process of its own; null when it failed. */
function run(subject: string, path: string): Row | null {
  const child = spawnSync(process.execPath, [process.argv[1]!, subject, path], {
    encoding: 'utf8',
    maxBuffer: 1 << 26,
  });
  if (child.status !== 0) return null;
  return JSON.parse(child.stdout.trim().split('\n').at(-1)!) as Row;
}

/** The whole command, start-up and all. Null when it is not built. */
function runCheck(path: string): Row | null {
  const run = watched(['check', path, ...checkOptions('6 mm')]);
  if (run === null) return null;
  const { seconds, cpuSeconds, megabytes, status } = run;
  return { seconds, cpuSeconds, megabytes, answer: `exit code ${status}` };
}

function table(title: string, path: string, subjects: string[]): void {
  console.log(`\n${title}: ${(statSync(path).size / 1e6).toFixed(0)} MB\n`);
  console.log('| | s | CPU s | CPU × parseLine | peak MB | |\n|---|---|---|---|---|---|');
  const rows = subjects.map(
    (subject) => [subject, best(() => (subject === CHECK ? runCheck(path) : run(subject, path)))] as const,
  );
  const base = rows.find(([subject]) => subject === PARSER)?.[1]?.cpuSeconds ?? Number.NaN;
  for (const [subject, row] of rows) {
    if (!row) console.log(`| ${subject} | did not run | | | | |`);
    else {
      const ratio = Number.isNaN(base) ? '' : (row.cpuSeconds / base).toFixed(3);
      console.log(
        `| ${subject} | ${row.seconds.toFixed(2)} | ${row.cpuSeconds.toFixed(2)} | ${ratio} | ${row.megabytes.toFixed(0)} | ${row.answer} |`,
      );
    }
  }
}

const [, , subject, path] = process.argv;
if (subject && path) await measure(subject, path);
else {
  console.log(`Node ${process.version}, ${new Date().toISOString().slice(0, 10)}`);
  const all = [...Object.keys(SUBJECTS), CHECK];
  table('Raster', rasterFile(50), all);
  table('Vector', vectorFile(50), all);
  if (!process.env['BENCH_SMALL']) table('Large raster', rasterFile(500), LARGE);
}
