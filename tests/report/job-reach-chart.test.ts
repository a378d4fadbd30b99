import { describe, expect, it } from 'vitest';
import { jobReach } from '../../src/facts/bench/job-reach.ts';
import { drawingOf } from '../../src/facts/drawing/drawing.ts';
import { reachOfJob } from '../../src/report/pictures/job-reach-chart.ts';
import { citedCut } from '../cited-cuts.ts';
import { demoFiles, factsOf, shed } from '../memory-shop.ts';

const FACTS = factsOf({
  ...shed(),
  ...demoFiles('seed-tray-divider.gcode', 'seed-tray-divider.svg', 'seed-tray-divider.job.yaml'),
});

/** The chart of the demo's 3 mm plywood, with these cuts published. */
function chart(...cuts: ReturnType<typeof citedCut>[]): string {
  const reach = jobReach(FACTS, new Map(), () => cuts);
  const picture = reachOfJob(drawingOf(FACTS, { reach, findings: [], points: 1000 }), FACTS.thicknessMm);
  return `${picture!.description}\n${picture!.body}`;
}

describe('published cuts on the chart of a job', () => {
  it('are diamonds with their citation, full where they parted and empty where they did not', () => {
    const body = chart(
      citedCut({ thicknessMm: 3, citation: 'A shop, <wiki>' }),
      citedCut({ thicknessMm: 3, outcome: 'not', citation: 'B shop' }),
    );
    expect(body).toContain('2 published cuts beside it.');
    const titles = [...body.matchAll(/<path class="(p-ink|p-thin)"[^>]*><title>([^<]*)<\/title>/g)];
    expect(titles.map(([, css]) => css)).toEqual(['p-ink', 'p-thin']);
    expect(titles[0]![2]).toContain('(A shop, &lt;wiki&gt;)');
    expect(titles[1]![2]).toContain('did not part');
  });

  it('stay away where they lie outside of what the job is about', () => {
    const body = chart(
      citedCut({ thicknessMm: 30 }),
      citedCut({ thicknessMm: 3, speedMmPerS: 0.01 }),
      citedCut({ thicknessMm: 3, passes: 2 }),
      citedCut({ thicknessMm: 3, material: 'oak' }),
    );
    expect(body).not.toContain('<title>');
    expect(body).not.toContain('published');
  });
});
