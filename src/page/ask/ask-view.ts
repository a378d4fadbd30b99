import { recipeQuestion } from '../../bench/sidecar/recipe-question.ts';
import type { Aim } from '../../job/model.ts';
import { pictureInPage } from '../../report/pictures/picture-parts.ts';
import { formatCount } from '../../units/format.ts';
import { make, part } from '../make-element.ts';
import type { PageStore } from '../page-state.ts';
import type { AnsweredJob, AskedJob } from '../worker/messages.ts';
import { recipePicture } from './recipe-picture.ts';

const ANSWERS: readonly { aim: Aim; words: string }[] = [
  { aim: 'through', words: 'Yes: part it' },
  { aim: 'groove', words: 'No: only a line' },
  { aim: 'surface', words: 'No: an area is marked' },
];

/** The questions on what the recipes of toolpaths without a sidecar are for. */
export function showQuestions(store: PageStore, judge: (answered: readonly AnsweredJob[]) => void): void {
  const form = part<HTMLFormElement>('ask-form');
  store.onChange(({ asked }, before) => {
    if (asked === before.asked) return;
    part('asked').replaceChildren(...asked.map(jobOf));
  });
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    const { asked } = store.state;
    const answered = asked.map((job, at) => ({ file: job.file, aims: aimsOf(form, job, at) }));
    const open = answered.flatMap(({ aims }, at) => aims.map((aim, i) => (aim === null ? fieldOf(at, i) : null)));
    markUnanswered(open.filter((id) => id !== null));
    if (open.every((id) => id === null)) judge(answered as AnsweredJob[]);
  });
  form.addEventListener('change', ({ target }) => {
    const box = (target as Element).closest('fieldset');
    if (box) markAnswered(box);
  });
  part('all-part').addEventListener('click', () => judge([]));
}

const fieldOf = (job: number, recipe: number) => `recipe-${job}-${recipe}`;

function aimsOf(form: HTMLFormElement, { recipes }: AskedJob, at: number): (Aim | null)[] {
  const said = new FormData(form);
  return recipes.map((_, i) => said.get(fieldOf(at, i)) as Aim | null);
}

function jobOf(job: AskedJob, at: number): HTMLElement {
  const { file, recipes, areas } = job;
  const besides =
    areas === 0
      ? []
      : [make('p', { class: 'soft' }, `Besides, ${formatCount(areas, 'area')} of close lines: taken as marked.`)];
  return make(
    'section',
    { 'aria-label': file },
    make('h2', {}, file),
    ...recipes.map((_, i) => questionOf(job, at, i)),
    ...besides,
  );
}

function questionOf(job: AskedJob, at: number, i: number): HTMLElement {
  const id = fieldOf(at, i);
  const picture = make('div', { class: 'where' });
  // The picture is made of numbers alone.
  picture.innerHTML = pictureInPage(recipePicture(job, i), `${id}-picture`);
  const error = make('p', { class: 'error', id: `${id}-error`, hidden: '' }, 'Say what these lines are for.');
  return make(
    'fieldset',
    { id, class: 'recipe', role: 'radiogroup', 'aria-describedby': error.id },
    make('legend', {}, recipeQuestion(job.recipes[i]!)),
    picture,
    make(
      'div',
      { class: 'answers' },
      ...ANSWERS.map(({ aim, words }) =>
        make('label', {}, make('input', { type: 'radio', name: id, value: aim }), ` ${words}`),
      ),
      error,
    ),
  );
}

function markUnanswered(ids: readonly string[]): void {
  for (const id of ids) {
    part(id).setAttribute('aria-invalid', 'true');
    part(`${id}-error`).hidden = false;
  }
  const [first] = ids;
  if (first !== undefined) part(first).querySelector('input')?.focus();
}

function markAnswered(box: Element): void {
  box.removeAttribute('aria-invalid');
  const error = box.querySelector<HTMLElement>('.error');
  if (error) error.hidden = true;
}
