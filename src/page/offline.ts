import type { RunResult } from '../findings/result.ts';
import { READERS } from '../readers.ts';
import { json } from '../report/data/json.ts';
import { html, reportBody } from '../report/html/html.ts';
import { type ReportContext, type ReportScript, reportText } from '../report/report-context.ts';
import { rulesFor } from '../rules/index.ts';
import { localDate } from '../units/date.ts';
import { activateReport } from './activate-report.ts';
import { type Checked, checkFiles, type FormValues } from './check-files.ts';
import { FILLED_MACHINE, machineProfile } from './filled-machine.ts';
import { filesOfDrop, filesOfInput, type PickedFile } from './picked-files.ts';

/** Written in by the build. */
declare const BUILT: { version: string; script: ReportScript; catalogue: Record<string, string> };

const ENCODER = new TextEncoder();
const catalogue = new Map(Object.entries(BUILT.catalogue).map(([path, text]) => [path, ENCODER.encode(text)]));
const files = new Map<string, Uint8Array>();

function part<T extends Element>(id: string): T {
  const found = document.getElementById(id);
  if (!found) throw new Error(`the page has no ${id}`);
  return found as unknown as T;
}

function field(id: string): string {
  return part<HTMLInputElement | HTMLSelectElement>(id).value.trim();
}

async function take(picked: readonly PickedFile[]): Promise<void> {
  for (const { path, file } of picked) files.set(path, new Uint8Array(await file.arrayBuffer()));
  const list = part<HTMLUListElement>('files');
  list.replaceChildren(
    ...[...files].map(([path, bytes]) => {
      const item = document.createElement('li');
      item.textContent = `${path}, ${bytes.length} bytes`;
      return item;
    }),
  );
  say(files.size === 0 ? 'No files yet.' : `${files.size} files are here. Nothing leaves this page.`);
}

function say(text: string): void {
  part('status').textContent = text;
}

/** What is filled in for bare files. A machine is made of the form when its power is given. */
function filledIn(): { filled: FormValues; machineText: string | null } {
  const filled: FormValues = {};
  const material = field('material');
  const thickness = field('thickness');
  const ratedW = field('rated');
  const named = field('machine');
  if (material !== '') filled.material = material;
  if (thickness !== '') filled.thickness = thickness;
  if (named !== '') filled.machine = named;
  else if (ratedW !== '') filled.machine = FILLED_MACHINE;
  const fields = {
    kind: field('kind'),
    ratedW,
    focalMm: field('focal'),
    beamMm: field('beam'),
    fullPower: field('scale'),
  };
  return { filled, machineText: named === '' && ratedW !== '' ? machineProfile(fields) : null };
}

async function check(): Promise<Checked> {
  const today = field('today');
  try {
    return await checkFiles({ files, catalogue, ...filledIn(), today, toolVersion: BUILT.version });
  } catch (error) {
    return { run: null, problem: `kerflint failed; this is its own fault: ${String(error)}` };
  }
}

async function run(): Promise<void> {
  if (files.size === 0) {
    say('Drop or choose files first.');
    return;
  }
  const { run: done, problem } = await check();
  if (done === null) {
    say(problem);
    return;
  }
  const context: ReportContext = {
    rules: rulesFor(READERS),
    width: 100,
    colour: false,
    quiet: false,
    failLevel: { failOn: 'error', maxWarnings: null },
    rootInRepository: '',
    docsUrl: null,
    pictures: new Map(done.result.jobs.flatMap(({ name }, i) => (done.drawings[i] ? [[name, done.drawings[i]]] : []))),
    script: BUILT.script,
  };
  show(done.result, context);
}

function show(result: RunResult, context: ReportContext): void {
  const shown = part<HTMLElement>('shown');
  // Every text from a file was escaped on its way into the report, and the page's policy runs no script from it.
  shown.innerHTML = reportBody(result, context);
  part<HTMLElement>('front').hidden = true;
  part<HTMLElement>('after').hidden = false;
  offer('save-html', 'report.html', 'text/html', () => html(result, context));
  offer('save-json', 'result.json', 'application/json', () => reportText(json, result, context));
  activateReport(shown);
  shown.querySelector<HTMLElement>('h1')?.setAttribute('tabindex', '-1');
  shown.querySelector<HTMLElement>('h1')?.focus();
}

function offer(id: string, name: string, type: string, make: () => string): void {
  part<HTMLButtonElement>(id).onclick = () => {
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([make()], { type }));
    link.download = name;
    link.click();
    URL.revokeObjectURL(link.href);
  };
}

function start(): void {
  part<HTMLInputElement>('today').value = localDate(new Date());
  const materials = part<HTMLDataListElement>('materials');
  for (const path of catalogue.keys()) {
    const id = /^materials\/([^/]+)\.material\.yaml$/.exec(path)?.[1];
    if (id !== undefined) materials.append(new Option('', id));
  }
  for (const id of ['pick-files', 'pick-folder']) {
    const input = part<HTMLInputElement>(id);
    input.addEventListener('change', () => void take(filesOfInput(input)));
  }
  const drop = part<HTMLElement>('drop');
  document.addEventListener('dragover', (event) => {
    event.preventDefault();
    drop.classList.add('over');
  });
  document.addEventListener('dragleave', () => drop.classList.remove('over'));
  document.addEventListener('drop', (event) => {
    event.preventDefault();
    drop.classList.remove('over');
    if (event.dataTransfer) void filesOfDrop(event.dataTransfer).then(take);
  });
  part<HTMLFormElement>('form').addEventListener('submit', (event) => {
    event.preventDefault();
    void run();
  });
  part<HTMLButtonElement>('clear').addEventListener('click', () => {
    files.clear();
    void take([]);
  });
  part<HTMLButtonElement>('again').addEventListener('click', () => {
    part<HTMLElement>('shown').replaceChildren();
    part<HTMLElement>('front').hidden = false;
    part<HTMLElement>('after').hidden = true;
  });
}

start();
