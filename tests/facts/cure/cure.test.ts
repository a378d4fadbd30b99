// A change that is proposed is held against the check of files that have it: the program is rewritten by hand, as a person would.
import { describe, expect, it } from 'vitest';
import { curedJobs } from '../../../src/facts/cure/cured-jobs.ts';
import { demoFiles, type Files, factsOf, run, shed } from '../../memory-shop.ts';

const HUB = ['weather-vane-hub.gcode', 'weather-vane-hub.svg', 'weather-vane-hub.job.yaml'];
const hub = (): Files => ({ ...shed(), ...demoFiles(...HUB) });
const jobOf = (files: Files) => run(files).jobs[0]!;

/** A line of 60 mm in plywood, too fast to part it, with what is added to the sidecar and to the program. */
const line = (sidecar = '', gcode = '', thickness = '6 mm'): Files => ({
  ...shed(),
  'part.job.yaml': `kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: ${thickness}\ntoolpath: part.gcode\n${sidecar}tasks:\n  - { name: rim, aim: through, air: 1 bar }\n`,
  'part.gcode': `G21 G90\nM8\nG0 X20 Y30\nM4 S800 F1500\nG1 X80\nM5\n${gcode}M9\nM2\n`,
});

/** The hub's program with each outline run three times at 4 mm/s. */
function threePasses(gcode: string): string {
  const lines = gcode.split('\n').map((text) => text.replace('F270', 'F240'));
  return lines
    .flatMap((text) => (/^G3 .*F240/.test(text) || /^G3 /.test(text) ? [text, text, text] : [text]))
    .join('\n');
}

describe('the change that is proposed for a job whose cuts fall short', () => {
  const before = jobOf(hub());
  const cure = before.cure!;

  it('takes for each task the remedy that its finding names, under the lens of the job', () => {
    expect(before.verdict).toBe('fail');
    expect(cure).toMatchObject({ lens: '1.5in', otherLens: false });
    expect(cure.cuts.map(({ cut, text }) => [cut, text])).toEqual(
      before.cuts.map((cut, i) => [i, cut.remedies[0]!['text']]),
    );
    for (const { cut, throughProbability } of cure.cuts) {
      const remedy = before.cuts[cut]!.remedies[0]!['throughProbability'] as number;
      expect(Math.abs(throughProbability! - remedy)).toBeLessThan(0.002);
    }
    expect(cure.throughProbability).toBe(Math.min(...cure.cuts.map((cut) => cut.throughProbability!)));
  });

  it('is what a check of the changed program says: chance, depth, time and money', () => {
    const files = hub();
    const after = jobOf({ ...files, 'weather-vane-hub.gcode': threePasses(String(files['weather-vane-hub.gcode'])) });
    expect(after.verdict).toBe('pass');
    expect(after.cuts.map((cut) => cut.passes.length)).toEqual(cure.cuts.map((cut) => cut.passes.length));
    for (const [i, cut] of after.cuts.entries()) {
      expect(cut.throughProbability).toBeCloseTo(cure.cuts[i]!.throughProbability!, 2);
      expect(cut.depthMm! / cure.cuts[i]!.depthMm!).toBeCloseTo(1, 2);
    }
    // Stops and starts between the runs are reckoned, not planned anew: within 3 %.
    expect(Math.abs(cure.time!.totalS / after.time!.totalS - 1)).toBeLessThan(0.03);
    expect(Math.abs(cure.waste!.atStake - after.waste!.atStake)).toBeLessThan(0.05);
    expect(Math.abs(cure.waste!.expected - after.waste!.expected)).toBeLessThan(0.05);
  });

  it.each([
    ['in its corners, which are never faster than the line', 3],
    ['nowhere', 1000],
  ])('burns more at constant power where the head is slower: %s', (_, slowestMmPerS) => {
    const files = line();
    const facts = factsOf({ ...files, 'part.gcode': String(files['part.gcode']).replace('M4', 'M3') });
    const [first] = [...curedJobs({ ...facts, cuts: facts.cuts.map((cut) => ({ ...cut, slowestMmPerS })) })];
    const [cut] = first!.facts.cuts;
    const { programmedMmPerS, scaled } = cut!.passes[0]!;
    expect(scaled).toBe(false);
    expect(programmedMmPerS).toBeGreaterThan(3);
    expect(cut!.slowestMmPerS).toBe(slowestMmPerS === 3 ? 3 : programmedMmPerS);
    expect(cut!.cornerOverburn).toBeCloseTo(slowestMmPerS === 3 ? programmedMmPerS / 3 : 1, 9);
  });

  it('leaves cuts that do not fall short as they are', () => {
    const groove = 'G0 X20 Y50\nM4 S200 F3000\nG1 X80\nM5\n';
    const files = line('', groove);
    files['part.job.yaml'] =
      `${files['part.job.yaml']}  - { name: score, aim: groove, air: 1 bar, program: { feed: 3000 mm/min } }\n`;
    const facts = factsOf(files);
    const [first] = [...curedJobs(facts)];
    const changed = first!.cure.cuts.map(({ index }) => facts.cuts[index]!.aim);
    expect(new Set(changed)).toEqual(first!.cure.otherLens ? new Set(['through', 'groove']) : new Set(['through']));
  });
});

describe('no change is proposed', () => {
  it('where nothing falls short, and for what another error is about', () => {
    const files = { ...shed(), ...demoFiles('gate-sign.gcode', 'gate-sign.svg', 'gate-sign.job.yaml') };
    const job = jobOf(files);
    expect([job.verdict, job.cure, job.noCure]).toEqual(['fail', undefined, undefined]);
  });

  it('where the job would fail all the same, and it says by which rule', () => {
    const files = hub();
    const gcode = String(files['weather-vane-hub.gcode']).replace(/^M5/m, 'M3 S800\nG4 P1.5\nM5');
    const job = jobOf({ ...files, 'weather-vane-hub.gcode': gcode });
    expect(job.verdict).toBe('fail');
    expect(job.cure).toBeUndefined();
    expect(job.noCure).toMatch(/an error stands \(toolpath\/dwell-burn\)/);
  });

  it('where the job is incomplete', () => {
    const files = line();
    expect(jobOf(files).cure).toBeDefined();
    files['part.gcode'] = String(files['part.gcode']).replace('M2\n', 'G0 X[#1+3]\nM2\n');
    const job = jobOf(files);
    expect(job.verdict).toBe('incomplete');
    expect(job.cure).toBeUndefined();
  });

  it('where no recipe of the machine does it', () => {
    const job = jobOf(line('', '', '40 mm'));
    expect([job.verdict, job.cure]).toEqual(['fail', undefined]);
    expect(job.noCure).toBe('no change of the recipe alone brings its cuts through');
  });

  it('where the material must never be cut', () => {
    const files = hub();
    files['weather-vane-hub.job.yaml'] = String(files['weather-vane-hub.job.yaml']).replace('cast-acrylic', 'pvc');
    const job = jobOf(files);
    expect([job.verdict, job.cure]).toEqual(['fail', undefined]);
  });
});
