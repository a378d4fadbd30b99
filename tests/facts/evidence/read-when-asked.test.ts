import { describe, expect, it } from 'vitest';
import { CITED_CUTS_NAME } from '../../../src/job/evidence/cited-cuts.ts';
import { discoverJobs } from '../../../src/job/files/discovery.ts';
import { createLibrary } from '../../../src/job/files/library.ts';
import { collectShop } from '../../../src/job/files/shop.ts';
import { preflightDrawn, preflightWhole } from '../../../src/preflight.ts';
import { READERS } from '../../../src/readers.ts';
import type { Source } from '../../../src/source/source.ts';
import { memoryAccess } from '../../memory-access.ts';
import { catalogueSources, demoFiles, type Files, readers, shed, TODAY } from '../../memory-shop.ts';

/** A demo job, and how often the published cuts were read for it. */
function checking(files: Files, judge: typeof preflightWhole | typeof preflightDrawn) {
  let reads = 0;
  const counted = (source: Source): Source => ({
    ...source,
    chunks() {
      reads++;
      return source.chunks();
    },
  });
  const catalogue = catalogueSources().map((one) => (one.name.endsWith(CITED_CUTS_NAME) ? counted(one) : one));
  const access = memoryAccess(files);
  const result = judge({
    jobs: discoverJobs(access, READERS, [''], false).jobs,
    library: createLibrary({ catalogue, shop: collectShop(access, true).sources, untrusted: false }),
    settings: null,
    options: { today: TODAY, untrusted: false },
    toolVersion: '0.0.0-test',
    readers,
  });
  return { reads, result };
}

const SOUND = {
  ...shed(),
  ...demoFiles('seed-tray-divider.gcode', 'seed-tray-divider.svg', 'seed-tray-divider.job.yaml'),
};
const SHORT = {
  ...shed(),
  ...demoFiles('weather-vane-hub.gcode', 'weather-vane-hub.svg', 'weather-vane-hub.job.yaml'),
};

describe('published cuts', () => {
  it('are not read where a job gives no reason to', () => {
    expect(checking(SOUND, preflightWhole).reads).toBe(0);
  });

  it('are read once where a cut falls short, or a chart is drawn', () => {
    expect(checking(SHORT, preflightWhole).reads).toBe(1);
    expect(checking(SOUND, preflightDrawn).reads).toBe(1);
    expect(checking(SHORT, preflightDrawn).reads).toBe(1);
  });

  it('of a shop or beside a job are not taken: only those that ship are cited', () => {
    const own = JSON.stringify({ sources: { mine: 'me' }, cuts: [] });
    const access = memoryAccess({ ...shed(), [CITED_CUTS_NAME]: own });
    const { sources } = collectShop(access, true);
    expect(sources.map(({ name }) => name)).not.toContain(CITED_CUTS_NAME);
    const library = createLibrary({ catalogue: catalogueSources(), shop: sources, untrusted: false });
    expect(library.citedCuts().length).toBeGreaterThan(80);
    expect(createLibrary({ catalogue: [], shop: sources, untrusted: false }).citedCuts()).toEqual([]);
  });
});
