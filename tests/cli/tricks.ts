// What a pull request might bring along to get a bad job through: the same for the command line and the action.
import { mkdirSync, readFileSync, renameSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { RunResult } from '../../src/findings/result.ts';
import { demo, folder, REPOSITORY } from './harness.ts';

const repository = (path: string) => readFileSync(join(REPOSITORY, path), 'utf8');
export const MACHINE = repository('examples/machines/shed-60w.machine.yaml');
const STRONGER = MACHINE.replace('rated: 60 W', 'rated: 600 W').replace('measured: 54 W', 'measured: 540 W');
const VINYL = repository('data/materials/vinyl.material.yaml');
const harmless = (id: string, aliases: string) =>
  VINYL.replace('id: vinyl', `id: ${id}`)
    .replace('name: vinyl', `name: ${id}`)
    .replace(/aliases: .*/, `aliases: [${aliases}]`)
    .replace(/^other-languages:\n(?: {2}.*\n)+/m, '')
    .replace('class: never', 'class: usual');

export const HUB = 'weather-vane-hub.job.yaml';
const LABELS = 'plant-labels.job.yaml';

/** The demo as a checkout that a stranger may have changed, and the shop's own folder apart from it. */
export function pullRequest(): { checkout: string; shop: string } {
  const checkout = demo();
  mkdirSync(join(checkout, '.git'));
  // Every expected waste of the demo's bad jobs is above this.
  const shop = folder({ 'shed-60w.machine.yaml': MACHINE, '.kerflint.yaml': 'kerflint: 1\nbudget: 0.01 EUR\n' });
  return { checkout, shop };
}

function edit(path: string, change: (text: string) => string): void {
  const before = readFileSync(path, 'utf8');
  const after = change(before);
  if (after === before) throw new Error(`the trick changes nothing in ${path}`);
  writeFileSync(path, after);
}

const settings = (checkout: string, more: string) =>
  writeFileSync(join(checkout, '.kerflint.yaml'), `kerflint: 1\nmachines: [machines]\n${more}\n`);

export interface Trick {
  what: string;
  bring: (checkout: string) => void;
  /** A baseline that the run is started with, relative to the checkout. */
  baseline?: string;
  /**
   * Whom it serves: `whole` when it gets something through where the checkout itself is trusted (no --shop), `shop` when it also does
   * with a --shop folder beside that, because DESIGN counts it as a statement with a reason; `nobody` when it never does.
   */
  serves: 'nobody' | 'whole' | 'shop';
}

/** Renames a job's material, and brings a file for it. */
const rename = (checkout: string, id: string, aliases: string) => {
  writeFileSync(join(checkout, `${id}.material.yaml`), harmless(id, aliases));
  edit(join(checkout, LABELS), (text) => text.replace('material: vinyl', `material: ${id}`));
};

const BASELINE = `${JSON.stringify({
  kerflint: 1,
  findings: {
    'weather-vane-hub.gcode': { 'cut/short-of-through': 9, 'waste/over-budget': 9 },
    'weather-vane-hub.job.yaml': { 'cut/short-of-through': 9, 'waste/over-budget': 9 },
  },
})}\n`;

export const TRICKS: Trick[] = [
  {
    what: 'a stronger machine in place of the shop’s',
    bring: (checkout) => writeFileSync(join(checkout, 'machines/shed-60w.machine.yaml'), STRONGER),
    serves: 'whole',
  },
  {
    what: 'a stronger machine beside the job',
    bring: (checkout) => writeFileSync(join(checkout, 'shed-60w.machine.yaml'), STRONGER),
    serves: 'nobody',
  },
  {
    what: 'a stronger machine that the job names by its path',
    bring: (checkout) => {
      writeFileSync(join(checkout, 'own.machine.yaml'), STRONGER);
      edit(join(checkout, HUB), (text) => text.replace('machine: shed-60w', 'machine: ./own.machine.yaml'));
    },
    serves: 'nobody',
  },
  {
    what: 'a stronger machine by a link to a folder elsewhere',
    bring: (checkout) => {
      const elsewhere = folder({ 'shed-60w.machine.yaml': STRONGER });
      renameSync(join(checkout, 'machines'), join(checkout, 'old'));
      symlinkSync(elsewhere, join(checkout, 'machines'));
    },
    serves: 'nobody',
  },
  {
    what: 'a stronger machine by a link to a folder of its own',
    bring: (checkout) => {
      renameSync(join(checkout, 'machines'), join(checkout, 'old'));
      writeFileSync(join(checkout, 'old/shed-60w.machine.yaml'), STRONGER);
      symlinkSync('old', join(checkout, 'machines'));
    },
    serves: 'whole',
  },
  {
    what: 'air that is switched by words of its own, in a machine beside the job',
    bring: (checkout) =>
      writeFileSync(join(checkout, 'shed-60w.machine.yaml'), MACHINE.replace('air: {', 'air: { on: M8, off: M9,')),
    serves: 'nobody',
  },
  {
    what: 'a harmless vinyl',
    bring: (checkout) =>
      writeFileSync(join(checkout, 'vinyl.material.yaml'), VINYL.replace('class: never', 'class: usual')),
    serves: 'nobody',
  },
  { what: 'a harmless pvc', bring: (checkout) => rename(checkout, 'pvc', ''), serves: 'nobody' },
  {
    what: 'a harmless film that also goes by vinyl',
    bring: (checkout) => rename(checkout, 'film', 'vinyl'),
    serves: 'nobody',
  },
  {
    what: 'a harmless film that goes by no known name',
    bring: (checkout) => rename(checkout, 'film', ''),
    serves: 'shop',
  },
  {
    what: 'settings that switch a rule off',
    bring: (checkout) => settings(checkout, 'rules: { cut/short-of-through: "off" }'),
    serves: 'whole',
  },
  {
    what: 'settings that soften a rule',
    bring: (checkout) => settings(checkout, 'rules: { cut/short-of-through: note }'),
    serves: 'whole',
  },
  {
    what: 'settings that set a rule’s options so that it never speaks',
    bring: (checkout) => settings(checkout, 'rules: { cut/short-of-through: { below: 0.001 } }'),
    serves: 'whole',
  },
  {
    what: 'settings that exclude jobs',
    bring: (checkout) => settings(checkout, 'exclude: ["plant-labels*", "gate-sign*"]'),
    serves: 'whole',
  },
  {
    what: 'settings with a generous budget, and a job with one of its own',
    bring: (checkout) => {
      settings(checkout, 'budget: 1000 EUR');
      edit(join(checkout, HUB), (text) => `${text}budget: 1000 EUR\n`);
    },
    serves: 'nobody',
  },
  {
    what: 'a waiver in a sidecar',
    bring: (checkout) =>
      edit(
        join(checkout, LABELS),
        (text) => `${text}waive:\n  - { rule: material/hazardous, reason: "trust me", until: 2027-03-01 }\n`,
      ),
    serves: 'shop',
  },
  {
    what: 'a waiver in a comment of a toolpath',
    bring: (checkout) =>
      edit(
        join(checkout, 'weather-vane-hub.gcode'),
        (text) => `(kerflint-waive-file cut/short-of-through: trust me)\n${text}`,
      ),
    serves: 'shop',
  },
  {
    what: 'a baseline that counts what it brings',
    bring: (checkout) => writeFileSync(join(checkout, 'base.json'), BASELINE),
    baseline: 'base.json',
    serves: 'shop',
  },
];

/** The open errors and budgets of every job, `job: rule`; a job that is not finished lets nothing pass. */
function held(result: RunResult): { open: string[]; unfinished: string[] } {
  return {
    open: result.jobs.flatMap((job) =>
      job.findings
        .filter((one) => one.status === 'open' && (one.severity === 'error' || one.rule === 'waste/over-budget'))
        .map((one) => `${job.name}: ${one.rule}`),
    ),
    unfinished: result.jobs.filter((job) => job.verdict === 'incomplete').map((job) => job.name),
  };
}

/** What was held before and is held no more. */
export function gained(honest: RunResult, cheated: RunResult): string[] {
  const now = held(cheated);
  return held(honest).open.filter((one) => {
    const job = one.slice(0, one.indexOf(':'));
    return !now.open.includes(one) && !now.unfinished.includes(job);
  });
}
