import { formatChance, formatCount } from '../units/format.ts';
import type { JobResult } from './result.ts';

/** From here on a cut may be called predicted to part the sheet: what a recipe from the catalogue is held to (src/facts/cuts). */
const PREDICTED_TO_PART = 0.9;

const NOTHING_THROUGH = 'nothing is meant to go through';

/** What was checked in some jobs and what was not: cuts and their least chance, engravings, what was set aside, rules. No job is kept. */
export class Checked {
  #jobs = 0;
  /** Jobs in which nothing is meant to go through. */
  #onlyEngrave = 0;
  #engravings = 0;
  #aside = 0;
  #warnings = 0;
  #idleRules = 0;
  readonly #early = new Set<string>();
  readonly #chances = new Chances();
  readonly #withoutSettings = new WithoutSettings();

  /** Counts a job in, and gives itself. */
  with({ findings, notChecked, tasks, cuts }: Omit<JobResult, 'headline'>): this {
    this.#jobs++;
    if (tasks.length > 0 && tasks.every(({ aim }) => aim !== 'through')) this.#onlyEngrave++;
    this.#engravings += tasks.filter(({ aim }) => aim !== 'through').length;
    for (const { status, severity } of findings) {
      if (status !== 'open' && severity !== 'note') this.#aside++;
      else if (status === 'open' && severity === 'warning') this.#warnings++;
    }
    for (const { kind, rule } of notChecked) {
      if (kind === 'ended-early') this.#early.add(rule);
      else if (kind === 'not-applicable') this.#idleRules++;
    }
    for (const cut of cuts) if (cut.aim === 'through') this.#take(cut);
    return this;
  }

  #take({ throughProbability, reach }: JobResult['cuts'][number]): void {
    if (throughProbability === null && reach) this.#withoutSettings.take(reach);
    else this.#chances.take(throughProbability);
  }

  /** In words, without a full stop. */
  text(): string {
    const idle = this.#jobs > 1 ? 0 : this.#idleRules;
    return [
      this.#cuts(),
      this.#engravings === 0 ? '' : `${formatCount(this.#engravings, 'engraving')} not judged for depth`,
      this.#aside === 0 ? '' : `${formatCount(this.#aside, 'finding')} waived or in the baseline`,
      this.#warnings === 0 ? '' : `${formatCount(this.#warnings, 'warning')} to look at`,
      this.#early.size === 0 ? '' : `${formatCount(this.#early.size, 'rule')} not checked to the end`,
      idle === 0 ? '' : `${formatCount(idle, 'rule')} with nothing to look at`,
    ]
      .filter((part) => part !== '')
      .join('; ');
  }

  /** "both cuts are predicted to part the sheet, 94 %"; that nothing is meant to, where nothing is. */
  #cuts(): string {
    const { cuts, known } = this.#chances;
    if (cuts + this.#withoutSettings.cuts === 0) {
      return this.#onlyEngrave === this.#jobs ? NOTHING_THROUGH : 'no cut that is to go through was found';
    }
    const unknown = cuts - known;
    return [
      known === 0 ? '' : this.#chances.text(),
      unknown === 0 ? '' : `${formatCount(unknown, 'cut is', 'cuts are')} without a prediction`,
      this.#withoutSettings.text(),
      this.#onlyEngrave === 0 ? '' : `${NOTHING_THROUGH} in ${formatCount(this.#onlyEngrave, 'job')}`,
    ]
      .filter((part) => part !== '')
      .join('; ');
  }
}

/** Cuts for which no settings are planned yet, and what the best of the machine's would do. */
class WithoutSettings {
  cuts = 0;
  /** Cuts for which settings are proposed, and the least chance that these part one. */
  #proposed = 0;
  #least = 1;

  take({ proposed }: NonNullable<JobResult['cuts'][number]['reach']>): void {
    this.cuts++;
    if (proposed === null) return;
    this.#proposed++;
    this.#least = Math.min(this.#least, proposed.throughProbability);
  }

  /** "2 cuts have no settings yet (proposed: 91 % likely to part the sheet)"; empty where there is none. */
  text(): string {
    if (this.cuts === 0) return '';
    const which = this.#proposed === this.cuts ? '' : `, for ${this.#proposed} of them`;
    const proposal =
      this.#proposed === 0
        ? 'none is sure enough to be proposed'
        : `proposed${which}: ${formatChance(this.#least)} likely to part the sheet`;
    return `${formatCount(this.cuts, 'cut has', 'cuts have')} no settings yet (${proposal})`;
  }
}

/** The chances of cuts that are to go through: how many, how many of them known, the least. */
class Chances {
  cuts = 0;
  known = 0;
  #least = Number.POSITIVE_INFINITY;
  #shown: string | null = null;
  #alike = true;

  take(chance: number | null): void {
    this.cuts++;
    if (chance === null) return;
    this.known++;
    this.#least = Math.min(this.#least, chance);
    const shown = formatChance(chance);
    this.#shown ??= shown;
    if (shown !== this.#shown) this.#alike = false;
  }

  text(): string {
    const chance = formatChance(this.#least);
    if (this.#least < PREDICTED_TO_PART) {
      const which = this.cuts === 1 ? 'the one cut' : `the least sure of ${this.cuts} cuts`;
      return `${which} is ${chance} likely to part the sheet`;
    }
    return `${this.#count()} predicted to part the sheet, ${chance}${this.#alike ? '' : ' or more'}`;
  }

  #count(): string {
    const { cuts, known } = this;
    if (known < cuts) return `${known} of ${cuts} cuts ${known === 1 ? 'is' : 'are'}`;
    if (cuts === 1) return 'the one cut is';
    return cuts === 2 ? 'both cuts are' : `all ${cuts} cuts are`;
  }
}
