import { byCodeUnit } from '../../files/access.ts';
import { nameKey } from '../../files/name-key.ts';
import type { Material } from '../../model.ts';
import { HAZARD_RANK } from '../tighten-material.ts';
import { KIND_WORDS, KINDS, type Kind, TELLING_ROOTS } from './kinds.ts';
import { type Likeness, likeness, type Spelling, spelled } from './likeness.ts';

/** A material as a name that is not known may lead to it. */
export interface Choice {
  id: string;
  name: string;
  hazard: Material['hazard'];
  /** What tells it from the others of its kind; null where its file does not say. */
  differs: string | null;
}

/**
 * What a name that is not known may mean. No material in it is less hazardous than any whose name is like what was written.
 *
 * - `kind`: it says only what kind it is, as "plywood" or "blue foam" do; `word` is the kind, and all of that kind are listed
 * - `hazard`: it holds or resembles the name of something that is never cut or that a person must reconsider; `word` is that name
 * - `like`: it is a slip away from other names, or shares words with them; `word` is the nearest
 */
export interface Meant {
  why: 'kind' | 'hazard' | 'like';
  word: string;
  choices: readonly Choice[];
}

/** More than this are a listing and no hint; a kind is listed whole. */
const MOST_HINTS = 4;

/** Words that say nothing of what a sheet is made of. */
const SHAPES = new Set(['sheet', 'sheets', 'plate', 'panel', 'board', 'film', 'thin', 'thick', 'platte', 'plaque', 'placa']);

interface Like extends Likeness {
  material: Material;
  name: string;
  spelling: Spelling;
}

/** What a name may mean that none of the materials has; null when it is like none. */
export function meantBy(written: string, materials: readonly Material[]): Meant | null {
  const one = spelled(written);
  if (one.letters === '') return null;
  const named = kindNamed(one, materials, 0);
  if (named !== null) return named;
  const worst = worstOf(likeNames(one, materials));
  const nearest = worst[0];
  if (nearest !== undefined && isHazardous(nearest.material)) return hint('hazard', nearest.name, worst);
  if (nearest?.how === 'whole') return hint('like', nearest.name, worst);
  const kind = kindNamed(one, materials, 1);
  // "birch plywood 3 mm" says more than that it is plywood; "oak plywood" does not say which.
  if (kind !== null && !nearest?.spelling.words.some((word) => wordsOf(kind.word as Kind).includes(word))) return kind;
  if (nearest !== undefined) return hint('like', nearest.name, worst);
  const shared = worstOf(sharingWords(one, materials));
  return shared[0] === undefined ? null : hint('like', shared[0].name, shared);
}

const isHazardous = ({ hazard }: Material) => HAZARD_RANK[hazard.class] >= HAZARD_RANK.reconsider;

/** The materials that go by a word of the same kind. */
const ofKind = (materials: readonly Material[], kind: Kind) => materials.filter(({ kinds }) => kinds.includes(kind));

const wordsOf = (kind: Kind) => [kind, ...KIND_WORDS[kind]].map((word) => nameKey(word));

/**
 * The kind that was written, and nothing else (`rest` 0), or with other words or slips (`rest` 1). Where several are held, the one with the
 * worst material in it; the later word decides between equals, as it does in English.
 */
function kindNamed(one: Spelling, materials: readonly Material[], rest: 0 | 1): Meant | null {
  const known = new Set<string>();
  const found = KINDS.flatMap((kind) => {
    const all = ofKind(materials, kind);
    if (all.length < 2) return [];
    const at = Math.max(
      ...wordsOf(kind).map((word) => {
        const spelling = spelled(word);
        if (spelling.letters === one.letters) return LAST;
        return rest === 1 && likeness(one, spelling, 'extract', known) !== null ? one.letters.lastIndexOf(spelling.letters) : -2;
      }),
    );
    return at === -2 ? [] : [{ kind, all, at, worst: Math.max(...all.map(rankOf)) }];
  });
  const [best] = found.sort((a, b) => b.worst - a.worst || b.at - a.at);
  if (best === undefined || (rest === 0 && best.at !== LAST)) return null;
  const choices = best.all.map(choiceOf).sort((a, b) => HAZARD_RANK[a.hazard.class] - HAZARD_RANK[b.hazard.class]);
  return { why: 'kind', word: best.kind, choices };
}

const LAST = 1000;

/** Each material that what was written is like, by the name that is nearest. */
function likeNames(one: Spelling, materials: readonly Material[]): Like[] {
  const known = new Set(materials.flatMap((material) => namesOf(material).flatMap((name) => spelled(name).words)));
  const like = materials.flatMap((material): Like[] => {
    const found = namesOf(material).flatMap((name): Like[] => {
      const spelling = spelled(name);
      const likes = likeness(one, spelling, material.hazard.class, known);
      return likes === null ? [] : [{ ...likes, material, name, spelling }];
    });
    return found.sort(byDistance).slice(0, 1);
  });
  const told = TELLING_ROOTS.flatMap(({ root, material: id }): Like[] => {
    const material = materials.find((each) => each.id === id);
    if (material === undefined || !one.letters.includes(root)) return [];
    return [{ how: 'part', distance: 100 - root.length, material, name: root, spelling: spelled(root) }];
  });
  return [...like, ...told.filter(({ material }) => !like.some((each) => each.material === material))];
}

/** Those that share the most words with what was written. */
function sharingWords(one: Spelling, materials: readonly Material[]): Like[] {
  const words = new Set(one.words.filter((word) => word.length > 2 && !SHAPES.has(word)));
  const sharing = materials.flatMap((material) =>
    namesOf(material).map((name) => {
      const spelling = spelled(name);
      const shared = spelling.words.filter((word) => words.has(word)).length;
      return { how: 'part' as const, distance: 100 - shared, material, name, spelling };
    }),
  );
  const nearest = Math.min(100, ...sharing.map(({ distance }) => distance));
  if (nearest === 100) return [];
  const seen = new Set<Material>();
  return sharing.filter(({ distance, material }) => {
    const first = distance === nearest && !seen.has(material);
    if (first) seen.add(material);
    return first;
  });
}

/** The most hazardous alone, the nearest first: no other may be suggested beside them. Of parts those that hold the most. */
function worstOf(like: readonly Like[]): Like[] {
  const worst = Math.max(0, ...like.map(({ material }) => rankOf(material)));
  const all = like.filter(({ material }) => rankOf(material) === worst).sort(byDistance);
  return all.filter(({ how, distance }) => how === all[0]!.how && distance === all[0]!.distance);
}

function hint(why: Meant['why'], word: string, like: readonly Like[]): Meant {
  return { why, word, choices: like.slice(0, MOST_HINTS).map(({ material }) => choiceOf(material)) };
}

const namesOf = ({ id, name, aliases }: Material) => [id, name, ...aliases];
const rankOf = ({ hazard }: Material) => HAZARD_RANK[hazard.class];
const choiceOf = ({ id, name, hazard, differs }: Material): Choice => ({ id, name, hazard, differs });

function byDistance(a: Like, b: Like): number {
  if (a.how !== b.how) return a.how === 'whole' ? -1 : 1;
  return a.distance - b.distance || byCodeUnit(a.material.id, b.material.id);
}
