import { leastSureChance } from '../predictions.ts';
import { defineRule } from '../rule.ts';
import { tasksThatCut } from '../tasks.ts';
import { formatChance, roundTo, sheet, significant } from '../wording.ts';

/** A gain in probability that is worth changing the lens for (a definition of this project). */
const WORTH_FITTING = 0.02;

export default defineRule({
  id: 'focus/lens-too-short',
  summary: 'The sheet is many times thicker than the lens’s depth of focus.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['machine', 'material', 'sidecar', 'prediction'],
  searches: ['tasks', 'passes'],
  messages: {
    tooShort:
      'The {sheet} is {ratio} times as thick as the {depth} mm over which the {lens} lens keeps its focus. Fit the {longer} lens, predicted to part it better ({better} likely, against {chance}), or use thinner stock. Above {limit} times the edge tapers and the energy spreads on its way down.',
    noLonger:
      'The {sheet} is {ratio} times as thick as the {depth} mm over which the {lens} lens keeps its focus. Use thinner stock, or expect the taper{others}. Above {limit} times the edge tapers and the energy spreads on its way down.',
  },
  example:
    'The 8.0 mm cast acrylic is 6.13 times as thick as the 1.31 mm over which the 1.5in lens keeps its focus. Fit the 2in lens, predicted to part it better (94 % likely, against 89 %), or use thinner stock. Above 5 times the edge tapers and the energy spreads on its way down.',
  options: {
    ratio: {
      type: 'number',
      default: 5,
      minimum: 1,
      description: 'Thickness over the √2 depth of focus from which the lens is called too short.',
    },
  },
  why: 'A short lens makes a small waist and a beam that opens fast: fine detail in thin stock, a wide and weak beam at the bottom of thick stock. The rule is a rule of thumb; the predicted depth (cut/short-of-through) is the judge. Soft foam offers no resistance worth the name and is exempt.',
  remedy:
    'Where the finding names a longer lens, fit it, set its standoff, name it in the sidecar (`lens:`) and check again. Where it names none, a longer one would spread the same energy over a wider spot: take thinner stock, stacked if need be.',
  sources: [
    'Depth of focus by the √2 criterion, 2 z_R: textbook, ISO 11146 notation',
    '1.5 in lenses for fine detail, 2 in for all-round work, 4 in for thick stock: common practice, no source; the limit of 5 is set to agree with it',
  ],
  check(facts, options) {
    const { beam, lens, machine, thicknessMm, material } = facts;
    if (beam === null || lens === null || machine === null)
      return { notApplicable: 'machine and lens are not both known' };
    if (thicknessMm === null) return { notApplicable: 'no thickness is given' };
    if (material?.traits.softFoam === true) return { notApplicable: 'soft foam is exempt' };
    const through = tasksThatCut(facts).find((group) => group.aim === 'through');
    if (through === undefined) return { notApplicable: 'no task has to go through' };
    const ratio = roundTo(thicknessMm / beam.depthOfFocusMm, 2);
    if (!(ratio > options.ratio)) return [];
    const args = {
      lens: lens.id,
      depth: significant(beam.depthOfFocusMm),
      sheet: sheet(facts),
      ratio: significant(ratio),
      limit: options.ratio,
    };
    const place = {
      location: facts.input.sidecar?.placeOf(['lens'], 'value') ?? facts.input.home,
      data: { ratio, depthOfFocusMm: beam.depthOfFocusMm },
    };
    const now = leastSureChance(facts);
    const longer = facts.longerLens;
    if (now === null || longer === null || roundTo(longer.throughProbability - now, 3) < WORTH_FITTING) {
      const others =
        longer === null ? '' : ': no longer lens of this machine is clearly surer to part it with the same recipe';
      return [{ messageId: 'noLonger', args: { ...args, others }, ...place }];
    }
    const better = { longer: longer.lens, better: formatChance(longer.throughProbability), chance: formatChance(now) };
    return [{ messageId: 'tooShort', args: { ...args, ...better }, ...place }];
  },
});
