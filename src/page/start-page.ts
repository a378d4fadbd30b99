import { machineDraft } from '../bench/machine/machine-draft.ts';
import { localDate } from '../units/date.ts';
import { showQuestions } from './ask/ask-view.ts';
import { offerDownload } from './download.ts';
import { showForm } from './form/form-view.ts';
import { keepMachine } from './form/machine-memory.ts';
import { filesOfDrop, filesOfInput, type Picked } from './form/picked-files.ts';
import { described, readForm } from './form/typed-form.ts';
import { part } from './make-element.ts';
import { keepHistory } from './page-history.ts';
import { PageStore } from './page-state.ts';
import { offerSaving, showReport } from './report-view.ts';
import type { BuiltIn } from './worker/desk.ts';
import { Helper, HelperFault } from './worker/helper.ts';
import type { AnsweredJob, GivenJob, Progress } from './worker/messages.ts';

/** Starts the page in the browser. @param script the text of its own script */
export function startPage(script: string, built: BuiltIn): void {
  new Page(script, built).start();
}

/** What the page does: from what was given to the answer. */
class Page {
  readonly #store = new PageStore({
    view: 'form',
    files: new Map(),
    notTaken: [],
    typed: {
      which: '',
      kind: 'co2',
      rated: '',
      lens: '',
      bed: '',
      scale: '',
      name: '',
      material: '',
      thickness: '',
      today: localDate(new Date()),
    },
    materials: [],
    wrong: [],
    remembers: false,
    storageRefused: false,
    asked: [],
    busy: null,
    fault: null,
    jobs: [],
  });
  readonly #helper: Helper;
  /** What the last reading rested on: the answers belong to it. */
  #given: GivenJob | null = null;

  constructor(script: string, built: BuiltIn) {
    this.#helper = new Helper(script, built);
  }

  start(): void {
    const store = this.#store;
    showForm(store);
    keepMachine(store);
    keepHistory(store);
    showQuestions(store, (answered) => void this.#judge(answered));
    offerSaving(store, this.#helper);
    store.onChange((state, before) => {
      if (state.view !== before.view) this.#showView();
      if (state.busy !== before.busy || state.fault !== before.fault) this.#showWork();
      if (state.files !== before.files) void this.#listMaterials();
    });
    this.#takeFiles();
    part('form').addEventListener('submit', (event) => {
      event.preventDefault();
      void this.#read();
    });
    part('save-profile').addEventListener('click', () => this.#saveProfile());
    part('back').addEventListener('click', () => store.set({ view: 'form' }));
    void this.#listMaterials();
  }

  #takeFiles(): void {
    for (const id of ['pick-files', 'pick-folder']) {
      const input = part<HTMLInputElement>(id);
      input.addEventListener('change', () => this.#take(filesOfInput(input)));
    }
    part('clear').addEventListener('click', () => {
      const { typed, remembers } = this.#store.state;
      const kept = remembers ? typed.which : '';
      this.#store.set({ files: this.#profileOf(kept), notTaken: [], wrong: [], typed: { ...typed, which: kept } });
      for (const id of ['pick-files', 'pick-folder']) part<HTMLInputElement>(id).value = '';
    });
    const drop = part('drop');
    document.addEventListener('dragover', (event) => {
      event.preventDefault();
      drop.classList.add('over');
    });
    document.addEventListener('dragleave', () => drop.classList.remove('over'));
    document.addEventListener('drop', async (event) => {
      event.preventDefault();
      drop.classList.remove('over');
      this.#store.set({ view: 'form' });
      if (event.dataTransfer) this.#take(await filesOfDrop(event.dataTransfer));
    });
  }

  #profileOf(id: string): Map<string, File> {
    return new Map([...this.#store.state.files].filter(([path]) => id !== '' && path.endsWith(`${id}.machine.yaml`)));
  }

  #take({ files, refused }: Picked): void {
    const { state } = this.#store;
    const all = new Map([...state.files, ...files.map(({ path, file }) => [path, file] as const)]);
    this.#store.set({ files: all, notTaken: refused, wrong: state.wrong.filter(({ field }) => field !== 'files') });
  }

  async #listMaterials(): Promise<void> {
    // What else is among the files has no say in it.
    const files = [...this.#store.state.files].filter(([path]) => path.endsWith('.yaml'));
    const materials = await this.#helper.ask('materials', { files }).catch(() => null);
    if (materials !== null) this.#store.set({ materials });
  }

  async #read(): Promise<void> {
    const { files, typed } = this.#store.state;
    if (this.#store.state.busy !== null) return;
    if (files.size === 0) {
      this.#store.set({ wrong: [{ field: 'files', text: 'Drop or choose files first.', choices: [] }] });
      return;
    }
    const form = readForm(typed, [...files.keys()]);
    this.#store.set({ wrong: form.wrong.map((one) => ({ ...one, choices: [] })) });
    if (form.filled === null) return;
    const given = { files: [...files], filled: form.filled, profile: form.profile, today: typed.today };
    const read = await this.#work('Reading', (tell) => this.#helper.ask('read', given, tell));
    if (read === null) return;
    if (read.refused !== null) {
      this.#store.set({ wrong: [read.refused] });
      return;
    }
    this.#given = given;
    this.#store.set({ asked: read.asked });
    if (read.asked.length === 0) await this.#judge([]);
    else this.#store.set({ view: 'ask' });
  }

  async #judge(answered: readonly AnsweredJob[]): Promise<void> {
    const given = this.#given;
    if (given === null || this.#store.state.busy !== null) return;
    const judged = await this.#work('Judging', (tell) => this.#helper.ask('judge', { ...given, answered }, tell));
    if (judged === null) return;
    if (judged.refused !== null) {
      this.#store.set({ view: 'form', wrong: [judged.refused] });
      return;
    }
    this.#store.set({ jobs: judged.jobs, view: 'report' });
    showReport(judged.body, judged.jobs, this.#helper);
  }

  /** Null where it failed; why is then on the page. */
  async #work<T>(text: string, does: (tell: (progress: Progress) => void) => Promise<T>): Promise<T | null> {
    this.#store.set({ busy: { text, share: null }, fault: null });
    try {
      return await does((busy) => this.#store.set({ busy }));
    } catch (error) {
      if (!(error instanceof HelperFault)) throw error;
      this.#store.set({ fault: error.message });
      return null;
    } finally {
      this.#store.set({ busy: null });
    }
  }

  #saveProfile(): void {
    const { facts, ...rest } = described(this.#store.state.typed);
    if (facts !== null) offerDownload(`${facts.id}.machine.yaml`, 'text/yaml', machineDraft(facts, null));
    else this.#store.set({ wrong: rest.wrong.map((one) => ({ ...one, choices: [] })) });
  }

  #showView(): void {
    const { view } = this.#store.state;
    part('front').hidden = view !== 'form';
    part('ask').hidden = view !== 'ask';
    part('after').hidden = view !== 'report';
    part('shown').hidden = view !== 'report';
    if (view === 'ask') part('ask-title').focus();
    scrollTo(0, 0);
  }

  #showWork(): void {
    const { busy, fault } = this.#store.state;
    part('work').hidden = busy === null && fault === null;
    const words = fault ?? busy?.text ?? '';
    // What is said already is not said again to those who listen.
    if (part('working').textContent !== words) part('working').textContent = words;
    const bar = part<HTMLProgressElement>('share');
    bar.hidden = busy === null;
    if (busy?.share == null) bar.removeAttribute('value');
    else bar.value = busy.share;
    for (const button of document.querySelectorAll<HTMLButtonElement>('.go')) button.disabled = busy !== null;
  }
}
