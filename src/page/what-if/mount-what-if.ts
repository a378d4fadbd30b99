import type { TrialAnswer, TrialChange, TrialJudgement, TrialPlan } from '../../trial.ts';
import { formatMm, formatWatts } from '../../units/format.ts';
import { make } from '../make-element.ts';
import { comparedTable, sectionPair } from './compared-view.ts';
import { KnobView } from './knob-view.ts';
import { Latest } from './latest.ts';
import {
  begun,
  isTurned,
  lookingAt,
  restored,
  sheetTurnedTo,
  standsAt,
  type Turning,
  taken,
  turnedTo,
  type WhatIfState,
} from './what-if-state.ts';
import { answerSentence, cautionText, materialText, recipeText, TURNING_TEXTS } from './what-if-words.ts';

/** What is asked of the job that was judged. */
export interface WhatIfContext {
  plan(): Promise<TrialPlan | null>;
  try(change: TrialChange, shown: number): Promise<TrialAnswer>;
  tryWhole(change: TrialChange): Promise<TrialJudgement>;
  /** The result with the change as a file. */
  saveTried(change: TrialChange): Promise<void>;
}

/** After so long at rest the rules are asked, ms: they take longer than one waits between two turns. */
const AT_REST_MS = 700;
/** After so long the answer is said aloud, ms: not at every step of a slider. */
const BEFORE_SAYING_MS = 400;

const KNOBS: readonly (readonly [what: Turning, label: string])[] = [
  ['speedMmPerS', 'Speed'],
  ['setting', 'Power'],
  ['passes', 'Passes'],
  ['focusMm', 'Focus'],
  ['focusStepMm', 'Focus from pass to pass'],
];

/** Puts "what if" into a place of the report: settings to turn, and what comes of them beside what is planned. */
export async function mountWhatIf(place: HTMLElement, context: WhatIfContext): Promise<void> {
  const plan = await context.plan().catch((error: Error) => {
    place.append(make('p', { class: 'soft' }, error.message));
    return null;
  });
  if (plan === null) return;
  if (plan.nothingToTry !== null) {
    place.append(make('p', { class: 'soft' }, `Other settings cannot be tried: ${plan.nothingToTry}.`));
    return;
  }
  new WhatIfView(place, context, plan).start();
}

class WhatIfView {
  readonly #id: string;
  readonly #context: WhatIfContext;
  readonly #knobs: ReadonlyMap<Turning, KnobView>;
  readonly #thickness: KnobView;
  readonly #lens: HTMLSelectElement;
  readonly #material: HTMLSelectElement;
  readonly #back = make('button', { type: 'button' }, "Back to the file's settings");
  readonly #save = make('button', { type: 'button' }, 'Save what you turned as JSON');
  readonly #caution = make('p', { class: 'soft' });
  readonly #proposals = make('div', { class: 'choices' });
  /** The answer in a sentence: to be seen at once, and to be heard when nobody turns. */
  readonly #says = make('p', { class: 'says', 'aria-hidden': 'true' });
  readonly #heard = make('p', { class: 'unseen', role: 'status' });
  readonly #table = make('div');
  readonly #sections = make('div', { class: 'section-pair' });
  readonly #judged = make('p', { class: 'judged' });
  readonly #quick: Latest<{ change: TrialChange; shown: number }, TrialAnswer>;
  readonly #whole: Latest<TrialChange, TrialJudgement>;
  #state: WhatIfState;
  #resting = 0;
  #saying = 0;

  constructor(place: HTMLElement, context: WhatIfContext, plan: TrialPlan) {
    this.#id = place.id;
    this.#context = context;
    this.#state = begun(plan);
    const fault = (error: Error) => {
      this.#says.textContent = error.message;
    };
    this.#quick = new Latest(
      ({ change, shown }) => context.try(change, plan.recipes[shown]!.leastSure),
      (turned, { shown }) => shown === this.#state.shown && this.#set({ ...this.#state, turned }),
      fault,
    );
    this.#whole = new Latest(
      (change) => context.tryWhole(change),
      (judged, change) => change === this.#state.change && this.#set({ ...this.#state, judged }),
      fault,
    );
    this.#knobs = new Map(
      KNOBS.map(([what, label]) => [
        what,
        new KnobView(`${this.#id}-${what}`, label, (value) => this.#turn(turnedTo(this.#state, what, value))),
      ]),
    );
    this.#thickness = new KnobView(`${this.#id}-thickness`, 'Thickness of the sheet', (thicknessMm) =>
      this.#turn(sheetTurnedTo(this.#state, { thicknessMm })),
    );
    this.#lens = this.#listOf(plan.lenses.map(({ id, focalMm }) => [id, `${id} (${formatMm(focalMm, 1)})`]));
    this.#material = this.#listOf(plan.materials.map((each) => [each.id, materialText(each)]));
    place.append(...this.#layOut(plan));
  }

  start(): void {
    this.#lens.addEventListener('change', () => this.#turn(sheetTurnedTo(this.#state, { lens: this.#lens.value })));
    this.#material.addEventListener('change', () =>
      this.#turn(sheetTurnedTo(this.#state, { material: this.#material.value })),
    );
    this.#back.addEventListener('click', () => this.#turn(restored(this.#state)));
    this.#save.addEventListener('click', () => void this.#context.saveTried(this.#state.change));
    void this.#look(this.#state.shown);
  }

  #layOut(plan: TrialPlan): HTMLElement[] {
    const title = `${this.#id}-title`;
    const motion = 'The program is so long that its motion is not planned anew: speed and passes stay.';
    const recipe = this.#field('recipe', 'Which recipe', this.#recipeList(plan));
    return [
      make('h3', { id: title }, 'What if?'),
      make('p', { class: 'soft' }, 'Turn a setting and see what comes of it. Your files stay as they are.'),
      ...(plan.recipes.length > 1 ? [recipe] : []),
      make(
        'div',
        { class: 'bench', role: 'group', 'aria-labelledby': title },
        make(
          'div',
          { class: 'knobs' },
          ...[...this.#knobs.values()].map(({ element }) => element),
          ...(plan.motionStays ? [make('p', { class: 'soft' }, motion)] : []),
          this.#field('lens', 'Lens', this.#lens),
          this.#thickness.element,
          this.#field('material', 'Material', this.#material),
        ),
        make(
          'div',
          { class: 'comes-of-it' },
          this.#caution,
          make('div', { class: 'choices' }, this.#back, this.#proposals, this.#save),
          this.#sections,
        ),
      ),
      this.#table,
      this.#judged,
      this.#says,
      this.#heard,
    ];
  }

  #recipeList(plan: TrialPlan): HTMLSelectElement {
    const list = this.#listOf(plan.recipes.map((each, index) => [String(index), recipeText(each)]));
    list.value = String(this.#state.shown);
    list.addEventListener('change', () => void this.#look(Number(list.value)));
    return list;
  }

  #listOf(options: readonly (readonly [value: string, text: string])[]): HTMLSelectElement {
    const list = make('select');
    list.append(...options.map(([value, text]) => make('option', { value }, text)));
    return list;
  }

  #field(name: string, label: string, list: HTMLSelectElement): HTMLElement {
    list.id = `${this.#id}-${name}`;
    return make('div', { class: 'knob' }, make('label', { for: list.id }, label), list);
  }

  /** Another recipe is looked at. */
  async #look(shown: number): Promise<void> {
    this.#set(lookingAt(this.#state, shown));
    const planned = await this.#context.try({ cuts: [] }, this.#state.plan.recipes[shown]!.leastSure);
    if (shown !== this.#state.shown) return;
    this.#set({ ...this.#state, planned });
    this.#showProposals();
    this.#quick.ask({ change: this.#state.change, shown });
  }

  #turn(state: WhatIfState): void {
    this.#set(state);
    this.#quick.ask({ change: state.change, shown: state.shown });
    clearTimeout(this.#resting);
    if (!isTurned(state)) return;
    this.#resting = window.setTimeout(() => this.#whole.ask(this.#state.change), AT_REST_MS);
  }

  #set(state: WhatIfState): void {
    const before = this.#state;
    this.#state = state;
    this.#showKnobs();
    this.#back.disabled = !isTurned(state);
    this.#save.disabled = !isTurned(state);
    if (state.turned !== before.turned || state.planned !== before.planned) this.#showAnswer();
    this.#showJudged();
  }

  #showKnobs(): void {
    const { turned, planned, change, plan } = this.#state;
    const answer = turned ?? planned;
    const firstW = answer?.cut?.passes[0]?.powerW;
    for (const [what, view] of this.#knobs) {
      view.show({
        knob: answer?.knobs?.[KNOB_OF[what]] ?? null,
        value: standsAt(this.#state, what),
        text: TURNING_TEXTS[what],
        beside: what === 'setting' && firstW !== undefined ? `${formatWatts(firstW)} at the work` : null,
      });
    }
    this.#thickness.show({
      knob: answer?.thickness ?? null,
      value: change.thicknessMm ?? plan.thicknessMm,
      text: (value) => formatMm(value),
    });
    this.#lens.value = change.lens ?? plan.lens ?? '';
    this.#material.value = change.material ?? plan.material ?? '';
  }

  #showAnswer(): void {
    const { planned, turned } = this.#state;
    if (planned === null || turned === null) return;
    this.#table.replaceChildren(comparedTable(planned, turned));
    this.#sections.replaceChildren(...sectionPair(planned, turned, this.#id));
    this.#caution.textContent = cautionText(turned);
    const sentence = answerSentence(this.#state);
    this.#says.textContent = sentence;
    clearTimeout(this.#saying);
    this.#saying = window.setTimeout(() => {
      this.#heard.textContent = sentence;
    }, BEFORE_SAYING_MS);
  }

  /** What the check proposes, each one click away, or why nothing is; nothing is proposed for a job that is not judged whole. */
  #showProposals(): void {
    const { plan, shown } = this.#state;
    const proposals = plan.verdict === 'incomplete' ? [] : (plan.recipes[shown]?.proposals ?? []);
    const without = plan.nothingProposed;
    this.#proposals.replaceChildren(
      ...(without === null ? [] : [make('p', { class: 'soft' }, `No change is proposed: ${without}.`)]),
      ...proposals.map(({ text, change }) => {
        const button = make('button', { type: 'button' }, `Try: ${text}`);
        button.addEventListener('click', () => this.#turn(taken(this.#state, change)));
        return button;
      }),
    );
  }

  #showJudged(): void {
    const { judged } = this.#state;
    const waiting = isTurned(this.#state) ? 'The rules are asked when you stop turning.' : '';
    this.#judged.textContent = judged === null ? waiting : `A check of it says: ${judged.headline}`;
  }
}

/** What keeps a slider's range among the knobs of a cut. */
const KNOB_OF = {
  setting: 'setting',
  speedMmPerS: 'speed',
  passes: 'passes',
  focusMm: 'focus',
  focusStepMm: 'focusStep',
} as const satisfies Record<Turning, string>;
