import { nameKey } from '../../job/files/name-key.ts';
import { assumptionText, classDefaults } from '../../job/machine/class-defaults.ts';
import { HAZARD_WORDS } from '../../job/material/names/hint-text.ts';
import { formatCount } from '../../units/format.ts';
import { make, part } from '../make-element.ts';
import type { PageState, PageStore } from '../page-state.ts';
import type { FieldName, Refusal } from '../worker/messages.ts';
import { profilesAmong } from './machine-memory.ts';
import { MaterialBox } from './material-box.ts';
import { described, type TypedForm } from './typed-form.ts';

const FIELDS = [
  'which',
  'kind',
  'rated',
  'lens',
  'bed',
  'scale',
  'name',
  'material',
  'thickness',
  'today',
] as const satisfies readonly (keyof TypedForm)[];

/** So many files are listed, and so many sentences on what was not taken. */
const MOST_LISTED = 40;
const MOST_SENTENCES = 5;

/** Shows the form as the state has it, and puts into the state what is typed. */
export function showForm(store: PageStore): void {
  const box = new MaterialBox(part('material'), part('materials'), (id) => type(store, 'material', id));
  for (const field of FIELDS) {
    const input = part<HTMLInputElement | HTMLSelectElement>(field);
    input.value = store.state.typed[field];
    input.addEventListener('input', () => type(store, field, input.value));
  }
  store.onChange((state, before) => {
    if (state.files !== before.files || state.notTaken !== before.notTaken) showFiles(state);
    if (state.files !== before.files) showProfiles(state);
    if (state.typed !== before.typed || state.files !== before.files) {
      for (const field of FIELDS) {
        const input = part<HTMLInputElement | HTMLSelectElement>(field);
        if (input.value !== state.typed[field]) input.value = state.typed[field];
      }
      showMachine(state.typed);
      showHazard(state);
    }
    if (state.materials !== before.materials) {
      box.offer(state.materials);
      showHazard(state);
    }
    if (state.wrong !== before.wrong) showWrong(state, before, store);
  });
  showFiles(store.state);
  showProfiles(store.state);
  showMachine(store.state.typed);
}

/** What was typed replaces what was there, and what was wrong with it is gone. */
function type(store: PageStore, field: keyof TypedForm, value: string): void {
  const { typed, wrong } = store.state;
  const stays = wrong.filter((one) => one.field !== field);
  store.set({ typed: { ...typed, [field]: value }, ...(stays.length < wrong.length ? { wrong: stays } : {}) });
}

function showFiles({ files, notTaken }: PageState): void {
  const names = [...files]
    .slice(0, MOST_LISTED)
    .map(([path, { size }]) => make('li', {}, `${path}, ${sizeText(size)}`));
  const more = files.size - names.length;
  part('files-list').replaceChildren(...names, ...(more > 0 ? [make('li', {}, `and ${more} more`)] : []));
  const sentences = [...new Set(notTaken)];
  const left = sentences.length - MOST_SENTENCES;
  const told = [...sentences.slice(0, MOST_SENTENCES), ...(left > 0 ? [`And ${left} more could not be taken.`] : [])];
  part('not-taken').replaceChildren(...told.map((text) => make('li', {}, text)));
  const here = files.size === 1 ? '1 file is here' : `${files.size} files are here`;
  part('status').textContent = files.size === 0 ? 'No files yet.' : `${here}. Nothing leaves this page.`;
  const sidecars = [...files.keys()].filter((path) => path.endsWith('.job.yaml')).length;
  const note = part('with-sidecars');
  note.hidden = sidecars === 0;
  note.textContent = `${formatCount(sidecars, 'sidecar')} among the files: they say their machine and sheet themselves. Fill in the sheet below only to check files without one as well.`;
}

function sizeText(bytes: number): string {
  if (bytes < 1000) return `${bytes} bytes`;
  return bytes < 1e6 ? `${Math.round(bytes / 1000)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}

function showProfiles({ files, typed }: PageState): void {
  const options = profilesAmong(files).map(({ id }) => new Option(id, id));
  const which = part<HTMLSelectElement>('which');
  which.replaceChildren(new Option('described here', ''), ...options);
  which.value = typed.which;
}

/** What is taken for the rest of the machine, as its class has it: it follows the kind of source. */
function showMachine(typed: TypedForm): void {
  part('facts').hidden = typed.which !== '';
  const taken = part('taken');
  const { facts } = described(typed);
  taken.hidden = typed.which !== '' || facts === null;
  if (facts === null) return;
  const defaults = classDefaults({ kind: facts.kind, ratedW: facts.rated.watts, lenses: facts.lenses });
  const [first] = defaults;
  part('taken-summary').textContent = `Taken where nobody has measured: ${
    first ? `${first.key} ${assumptionText(first)}` : 'nothing'
  } and ${defaults.length - 1} more`;
  part('taken-rows').replaceChildren(
    ...defaults.map((one) =>
      make(
        'tr',
        {},
        make('th', { scope: 'row' }, one.key),
        make('td', {}, assumptionText(one)),
        make('td', { class: 'soft' }, one.basis),
      ),
    ),
  );
}

/** The hazard of the material that is named, where it is known by that name. */
function showHazard({ typed, materials }: PageState): void {
  const key = nameKey(typed.material);
  const known = materials.find(({ id, name, aliases }) => [id, name, ...aliases].some((one) => nameKey(one) === key));
  const note = part('hazard');
  note.hidden = key === '' || known === undefined || known.hazard.class === 'usual';
  if (known) note.textContent = `${HAZARD_WORDS[known.hazard.class]}: ${known.hazard.reason}`;
}

function showWrong({ wrong }: PageState, before: PageState, store: PageStore): void {
  for (const { field } of before.wrong) clearField(field);
  for (const one of wrong) markField(one, store);
  const [first] = FIELD_ORDER.filter((field) => wrong.some((one) => one.field === field));
  // Only what was found on checking takes the focus: typing goes on where it is.
  if (first !== undefined && wrong.some((one) => !before.wrong.includes(one))) inputOf(first).focus();
}

const FIELD_ORDER: readonly FieldName[] = ['files', ...FIELDS];

const inputOf = (field: FieldName) => part(field === 'files' ? 'pick-files' : field);

function clearField(field: FieldName): void {
  inputOf(field).removeAttribute('aria-invalid');
  const error = part(`${field}-error`);
  error.hidden = true;
  error.replaceChildren();
}

function markField({ field, text, choices }: Refusal, store: PageStore): void {
  inputOf(field).setAttribute('aria-invalid', 'true');
  const error = part(`${field}-error`);
  error.hidden = false;
  const buttons = choices.map(({ id, name, hazard, differs }) => {
    const told = [
      ...(differs === null ? [] : [differs]),
      ...(hazard.class === 'usual' ? [] : [HAZARD_WORDS[hazard.class]]),
    ];
    const words = told.length === 0 ? name : `${name} (${told.join('; ')})`;
    const button = make('button', { type: 'button', class: 'choice' }, words);
    button.addEventListener('click', () => {
      type(store, field as keyof TypedForm, id);
      inputOf(field).focus();
    });
    return button;
  });
  error.replaceChildren(text, ...(buttons.length > 0 ? [make('span', { class: 'choices' }, ...buttons)] : []));
}
