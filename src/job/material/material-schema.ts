import * as v from 'valibot';
import type { Provenance } from '../model.ts';
import { count, id, length, quantity, ratio, share, strict, version, words } from '../yaml/shape.ts';
import { couponEntries } from './coupon-schema.ts';
import { KINDS } from './names/kinds.ts';

/** A material, `<id>.material.yaml`. No number stands without a source that begins with where it comes from. */

const ORIGINS: Record<string, Provenance['kind']> = {
  published: 'published',
  fitted: 'fitted',
  derived: 'derived',
  memory: 'memory',
  'measured here': 'measured-here',
  'common practice': 'common-practice',
};

/** Where a number comes from: `published: …`, `fitted: …`, `derived: …`, `memory: …`, `measured here: …` or `common practice`. */
const origin = v.pipe(
  v.string(),
  v.regex(
    /^(?:(?:published|fitted|derived|memory|measured here): \S.*|common practice(?:: \S.*)?)$/,
    'a source begins with one of "published: ", "fitted: ", "derived: ", "memory: ", "measured here: " or "common practice", and then says which',
  ),
  v.maxLength(1000, 'a source is longer than 1000 characters'),
  v.description('where the number comes from: published, fitted, derived, memory, measured here, or common practice'),
  v.transform((text): Provenance => {
    const [, kind = '', rest = ''] =
      /^(published|fitted|derived|memory|measured here|common practice)(?:: )?(.*)$/.exec(text) ?? [];
    return { kind: ORIGINS[kind] ?? 'memory', source: rest };
  }),
);

const verdict = v.union(
  [
    v.literal('cuts'),
    strict({
      verdict: v.literal('cuts'),
      'only-if': words('what must hold of the very sheet: only if it is …', 200),
      source: origin,
    }),
    strict({
      verdict: v.picklist(['cuts', 'marks-only', 'does-not-absorb']),
      reason: words('why, with the number behind it', 500),
      transmits: v.optional(share('share of the beam that passes through 3 mm of it')),
      source: origin,
    }),
  ],
  'write `cuts`, { verdict: cuts, only-if: …, source: … } or { verdict: marks-only | does-not-absorb, reason: …, source: … }',
);

const coupon = strict({
  machine: v.optional(id('machine it was cut on')),
  lens: v.optional(id('lens it was cut with')),
  ...couponEntries,
});

const FAMILIES = [
  'plywood',
  'wood',
  'board',
  'acrylic',
  'plastic',
  'paper',
  'textile',
  'leather',
  'foam',
  'rubber',
  'metal',
  'mineral',
  'composite',
] as const;

const HAZARDS = ['usual', 'extract', 'reconsider', 'never'] as const;
const TRAITS = ['mirrored', 'clear', 'hidden-glue', 'soft-foam', 'bare-metal', 'formaldehyde'] as const;

const otherNames = v.optional(
  v.pipe(v.array(words('another name of it', 80)), v.maxLength(100, 'more than 100 names')),
);

export const materialSchema = v.pipe(
  strict({
    kerflint: version,
    id: id('what jobs call this material; also the file name before .material.yaml'),
    name: words('its name inside a sentence, such as birch plywood', 80),
    aliases: v.optional(v.pipe(v.array(words('another name of it', 80)), v.maxLength(100, 'more than 100 aliases'))),
    'other-languages': v.optional(
      v.pipe(
        strict({ de: otherNames, fr: otherNames, es: otherNames, source: origin }),
        v.description('its names in German, French and Spanish'),
      ),
    ),
    'one-of': v.optional(
      v.pipe(v.array(v.picklist(KINDS)), v.description('words that several materials go by; alone they name none')),
    ),
    differs: v.optional(words('what tells it from the others that share such a word', 120)),
    family: v.picklist(FAMILIES),
    density: strict({ value: quantity('density', 'density'), source: origin }),
    'removal-energy': v.optional(
      v.pipe(
        strict({
          value: quantity('energy-per-volume', 'energy to remove a volume, power counted at the work'),
          spread: quantity('fraction', 'one standard deviation as a share of the value', {
            max: { value: 2, text: '200 %' },
          }),
          coupons: v.optional(count('how many coupons the value rests on', 0, 100_000)),
          source: origin,
          'before-evidence': v.optional(
            v.pipe(
              strict({
                value: quantity('energy-per-volume', 'the same, as it was taken before published cuts were weighed'),
                spread: quantity('fraction', 'one standard deviation as a share of it', {
                  max: { value: 2, text: '200 %' },
                }),
                source: origin,
              }),
              v.description('where a fitted value began'),
            ),
          ),
        }),
        v.description('left out where no source cuts it'),
      ),
    ),
    'divergence-share': v.optional(
      strict({
        value: ratio('share of the free spread below the waist', 0, 1),
        low: ratio('5th percentile', 0, 1),
        high: ratio('95th percentile', 0, 1),
        source: origin,
      }),
    ),
    'clean-speed': v.optional(
      v.pipe(
        strict({
          co2: v.optional(quantity('speed', 'below this it chars, melts or flares under a co2 source')),
          diode: v.optional(quantity('speed', 'the same under a diode source')),
          fibre: v.optional(quantity('speed', 'the same under a fibre source')),
          source: origin,
        }),
        v.description('a kind of source that is left out has no floor'),
      ),
    ),
    thermal: v.optional(
      strict({
        conductivity: quantity('conductivity', 'thermal conductivity'),
        diffusivity: quantity('diffusivity', 'thermal diffusivity'),
        'temperature-rise': quantity('temperature', 'from room temperature to removal'),
        source: origin,
      }),
    ),
    'kerf-threshold': v.optional(
      strict({
        value: quantity('energy-per-area', 'fluence at which the face is cut, for the reported kerf'),
        source: origin,
      }),
    ),
    sources: strict({ co2: verdict, diode: verdict, fibre: verdict }),
    hazard: strict({
      class: v.pipe(
        v.picklist(HAZARDS),
        v.description('never: do not; reconsider: a person decides; extract: fume; usual'),
      ),
      reason: words('what it gives off or does', 500),
      source: origin,
    }),
    traits: v.optional(v.array(v.picklist(TRAITS))),
    thickness: strict({ from: length('thinnest sheet sold'), to: length('thickest sheet sold'), source: origin }),
    stock: v.optional(
      v.pipe(
        v.array(length('a thickness that can be bought')),
        v.minLength(1, 'name at least one thickness, or leave stock out'),
        v.maxLength(60, 'more than 60 thicknesses'),
        v.description('thicknesses in which it can be bought; left out: those that sheet is commonly sold in'),
      ),
    ),
    coupons: v.optional(
      v.pipe(
        v.array(coupon),
        v.maxLength(3000, 'more than 3000 coupons'),
        v.description('test cuts; each counts only for the machine it names. Keep new ones in <machine>.bench.yaml'),
      ),
    ),
    focus: v.optional(
      v.pipe(
        strict({
          offset: length('focus offset found by a ramp', 'any'),
          spread: length('one standard deviation of it', 'not-negative'),
          source: origin,
        }),
        v.description('counts no more: a ramp belongs to a machine and a lens, in <machine>.bench.yaml'),
      ),
    ),
  }),
  v.title('kerflint material'),
  v.description('A material: what it takes to remove it, what it does under each source, and its hazard.'),
);

export type MaterialText = v.InferOutput<typeof materialSchema>;
