import { baseName, MACHINE_SUFFIX, stem } from '../../job/files/paths.ts';
import { part } from '../make-element.ts';
import type { PageState, PageStore } from '../page-state.ts';
import { forget, type Kept, type RememberedMachine, recall, remember } from './remembered-machine.ts';
import { MACHINE_FIELDS, type TypedForm } from './typed-form.ts';

/** Profiles of machines among the files, by their ids. */
export function profilesAmong(files: ReadonlyMap<string, File>): { id: string; path: string }[] {
  return [...files.keys()]
    .filter((path) => path.endsWith(MACHINE_SUFFIX))
    .map((path) => ({ id: stem(baseName(path), MACHINE_SUFFIX), path }));
}

/** Keeps the machine on this device while the box is ticked, and forgets it when told. What the browser refuses is said, and nothing else stops. */
export function keepMachine(store: PageStore): void {
  const box = part<HTMLInputElement>('remember');
  box.addEventListener('change', () => {
    if (!box.checked) forgetMachine(store);
    else void keepNow(store);
  });
  part('forget').addEventListener('click', () => forgetMachine(store));
  store.onChange((state, before) => {
    const changed =
      state.typed.which !== before.typed.which ||
      MACHINE_FIELDS.some((field) => state.typed[field] !== before.typed[field]);
    if (state.remembers && changed) void keepNow(store);
    if (state.remembers !== before.remembers || state.storageRefused !== before.storageRefused) show(state);
  });
  const { machine, kept } = recall();
  if (kept === 'refused') store.set({ storageRefused: true });
  if (machine !== null) store.set({ remembers: true, ...restored(machine, store.state) });
  show(store.state);
}

function restored({ facts, profile }: RememberedMachine, { typed, files }: PageState): Partial<PageState> {
  if (facts !== null) return { typed: { ...typed, ...picked(facts), which: '' } };
  const file = new File([profile.text], `${profile.id}${MACHINE_SUFFIX}`, { lastModified: 0 });
  return { files: new Map([...files, [file.name, file]]), typed: { ...typed, which: profile.id } };
}

function picked(from: Pick<TypedForm, (typeof MACHINE_FIELDS)[number]>) {
  return Object.fromEntries(MACHINE_FIELDS.map((field) => [field, from[field]])) as typeof from;
}

async function keepNow(store: PageStore): Promise<void> {
  const { typed, files } = store.state;
  const chosen = profilesAmong(files).find(({ id }) => id === typed.which);
  const text = chosen === undefined ? '' : await files.get(chosen.path)!.text();
  tell(
    store,
    remember(
      chosen === undefined
        ? { facts: picked(typed), profile: null }
        : { facts: null, profile: { id: chosen.id, text } },
    ),
    true,
  );
}

function forgetMachine(store: PageStore): void {
  tell(store, forget(), false);
}

function tell(store: PageStore, kept: Kept, remembers: boolean): void {
  store.set({ remembers: remembers && kept === 'done', storageRefused: kept === 'refused' });
  // A box that was ticked in vain is not ticked, though nothing changed.
  show(store.state);
}

function show({ remembers, storageRefused }: PageState): void {
  part<HTMLInputElement>('remember').checked = remembers;
  part('forget').hidden = !remembers;
  part('memory').textContent = storageRefused
    ? 'This browser keeps nothing for this page: the machine has to be given again next time. All else works.'
    : remembers
      ? 'Kept in this browser on this device, and nowhere else.'
      : '';
}
