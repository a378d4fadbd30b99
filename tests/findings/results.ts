import type { Finding } from '../../src/findings/finding.ts';
import type { JobResult, RunResult } from '../../src/findings/result.ts';
import { withVerdicts } from '../../src/findings/run-tally.ts';

/** A finding on the garden's gate sign, changed as a test needs it. */
export function finding(change: Partial<Finding> = {}): Finding {
  return {
    rule: 'cut/short-of-through',
    messageId: 'short',
    severity: 'error',
    message:
      'Predicted depth 4.1 mm (3.0–5.3) of 6.0 mm birch plywood after 1 pass at 48 W, 12 mm/s. Slow to 7.5 mm/s.',
    location: { file: 'signs/gate.gcode', line: 12, column: 4, endLine: 12, endColumn: 8 },
    excerpt: { startLine: 12, lines: ['G1 F720 X10'] },
    related: [],
    hints: [],
    docs: 'docs/rules/cut-short-of-through.md',
    fingerprint: '0123456789abcdef',
    status: 'open',
    ...change,
  };
}

/** A job of the tool library, changed as a test needs it; verdict and headline follow from what is in it in `run`. */
export function job(change: Partial<JobResult> = {}): JobResult {
  return {
    name: 'gate',
    verdict: 'pass',
    headline: '',
    sidecar: 'signs/gate.job.yaml',
    machine: 'bench-60w',
    lens: '2in',
    material: 'birch-plywood',
    thicknessMm: 6,
    files: { toolpath: 'signs/gate.gcode', artwork: 'signs/gate.svg' },
    toolpath: {
      moves: 420,
      cutLengthMm: 1812.4,
      rapidLengthMm: 640.2,
      timeS: 181.6,
      boundsMm: { minX: 0, minY: 0, maxX: 300, maxY: 120 },
    },
    artwork: { outlines: 14, lengthMm: 1812.4, boundsMm: { minX: 0, minY: 0, maxX: 300, maxY: 120 } },
    tasks: [{ name: 'outline', aim: 'through' }],
    cuts: [
      {
        task: 'outline',
        aim: 'through',
        lengthMm: 1812.4,
        passes: [{ powerW: 48, speedMmPerS: 12, focusMm: -1 }],
        depthMm: 4.1,
        depthLowMm: 3,
        depthHighMm: 5.3,
        throughProbability: 0.03,
        kerfMm: 0.21,
        basis: 'catalogue, ± 40 %',
        line: 12,
        remedies: [{ kind: 'slower', text: 'Slow to 7.5 mm/s', speedMmPerS: 7.5 }],
      },
    ],
    time: { totalS: 181.6, cuttingS: 151, rasterS: 0, travelS: 30.6, dwellS: 0, basis: 'toolpath' },
    waste: {
      currency: 'EUR',
      atStake: 4.72,
      expected: 4.58,
      sheet: 2.9,
      machine: 0.91,
      operator: 0.61,
      tube: 0.2,
      energy: 0.1,
    },
    findings: [],
    notChecked: [],
    incomplete: [],
    ...change,
  };
}

/** A run over jobs, judged. */
export function run(jobs: JobResult[], notCheckedFiles: RunResult['notCheckedFiles'] = []): RunResult {
  return withVerdicts({
    schemaVersion: 1,
    tool: { name: 'kerflint', version: '0.1.0' },
    jobs,
    notCheckedFiles,
    leftOut: notCheckedFiles.map(({ file, reason }) => ({ path: file, kind: 'toolpath', reason, incomplete: false })),
    passedBy: { excluded: 0, git: 0, nodeModules: 0, hiddenFolders: 0, otherFiles: 0 },
  });
}
