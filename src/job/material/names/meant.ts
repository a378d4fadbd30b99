import { byCodeUnit } from '../../files/access.ts';
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
const SHAPES = new Set([
  'sheet',
  'sheets',
  'plate',
  'panel',
  'board',
  'film',
  'thin',
  'thick',
  'platte',
  'plaque',
  'placa',
]);

/** A name of a material as it is compared. */
interface Named {
  material: Material;
  name: string;
  spelling: Spelling;
}

interface Like extends Likeness, Named {}

/** All names of the materials, made ready once for any number of questions. */
export interface Vocabulary {
  materials: readonly Material[];
  names: readonly Named[];
  /** Every word of every name. */
  words: ReadonlySet<string>;
}

export function vocabularyOf(materials: readonly Material[]): Vocabulary {
  const names = materials.flatMap((material) =>
    [material.id, material.name, ...material.aliases].map((name) => ({ material, name, spelling: spelled(name) })),
  );
  return { materials, names, words: new Set(names.flatMap(({ spelling }) => spelling.words)) };
}

/** What a name may mean that none of the materials has; null when it is like none. */
export function meantBy(written: string, vocabulary: Vocabulary): Meant | null {
  const one = spelled(written);
  if (one.letters === '') return null;
  const named = kindNamed(one, vocabulary, 'whole');
  if (named !== null) return named;
  const worst = worstOf(likeNames(one, vocabulary));
  const nearest = worst[0];
  if (nearest !== undefined && isHazardous(nearest.material)) return hint('hazard', nearest.name, worst);
  if (nearest?.how === 'whole') return hint('like', nearest.name, worst);
  const kind = kindNamed(one, vocabulary, 'part');
  // "birch plywood 3 mm" says more than that it is plywood; "oak plywood" does not say which.
  const says = new Set(nearest?.spelling.words);
  const milder = kind !== null && nearest !== undefined && worstClass(kind) < rankOf(nearest.material);
  if (kind !== null && !milder && !kindSpellings()[kind.word as Kind].some(({ letters }) => says.has(letters)))
    return kind;
  if (nearest !== undefined) return hint('like', nearest.name, worst);
  const shared = worstOf(sharingWords(one, vocabulary));
  return shared[0] === undefined ? null : hint('like', shared[0].name, shared);
}

const isHazardous = ({ hazard }: Material) => HAZARD_RANK[hazard.class] >= HAZARD_RANK.reconsider;

/** How the kinds may be spelled: made when a name is first not known, which most runs never come to. */
function kindSpellings(): Record<Kind, Spelling[]> {
  spellings ??= Object.fromEntries(KINDS.map((kind) => [kind, [kind, ...KIND_WORDS[kind]].map(spelled)])) as Record<
    Kind,
    Spelling[]
  >;
  return spellings;
}

let spellings: Record<Kind, Spelling[]> | undefined;

/**
 * The kind that was written, alone (`whole`), or with other words or slips (`part`). Where several are held, the one with the worst material
 * in it; the later word decides between equals, as it does in English.
 */
function kindNamed(one: Spelling, { materials, words }: Vocabulary, how: Likeness['how']): Meant | null {
  const found = KINDS.flatMap((kind) => {
    const all = materials.filter(({ kinds }) => kinds.includes(kind));
    const held = kindSpellings()[kind].filter((spelling) =>
      how === 'whole' ? spelling.letters === one.letters : likeness(one, spelling, 'extract', words) !== null,
    );
    if (all.length < 2 || held.length === 0) return [];
    const at = Math.max(...held.map(({ letters }) => one.letters.lastIndexOf(letters)));
    return [{ kind, all, at, worst: Math.max(...all.map(rankOf)) }];
  });
  const [best] = found.sort((a, b) => b.worst - a.worst || b.at - a.at);
  if (best === undefined) return null;
  const choices = best.all.map(choiceOf).sort((a, b) => HAZARD_RANK[a.hazard.class] - HAZARD_RANK[b.hazard.class]);
  return { why: 'kind', word: best.kind, choices };
}

/** Each material that what was written is like, by the name that is nearest. */
function likeNames(one: Spelling, { materials, names, words }: Vocabulary): Like[] {
  const nearest = new Map<Material, Like>();
  for (const named of names) {
    const likes = likeness(one, named.spelling, named.material.hazard.class, words);
    const before = nearest.get(named.material);
    const found = likes && { ...likes, ...named };
    if (found !== null && (before === undefined || byDistance(found, before) < 0)) nearest.set(named.material, found);
  }
  for (const { root, material: id } of TELLING_ROOTS) {
    const material = materials.find((each) => each.id === id);
    if (material === undefined || nearest.has(material) || !one.letters.includes(root)) continue;
    nearest.set(material, { how: 'part', distance: 100 - root.length, material, name: root, spelling: spelled(root) });
  }
  return [...nearest.values()];
}

/** Those that share the most words with what was written. */
function sharingWords(one: Spelling, { names }: Vocabulary): Like[] {
  const words = new Set(one.words.filter((word) => word.length > 2 && !SHAPES.has(word)));
  const sharing = new Map<Material, Like>();
  for (const named of names) {
    const shared = named.spelling.words.filter((word) => words.has(word)).length;
    const before = sharing.get(named.material);
    const found: Like = { how: 'part', distance: 100 - shared, ...named };
    if (shared > 0 && (before === undefined || byDistance(found, before) < 0)) sharing.set(named.material, found);
  }
  const nearest = Math.min(...[...sharing.values()].map(({ distance }) => distance));
  return [...sharing.values()].filter(({ distance }) => distance === nearest);
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

const rankOf = ({ hazard }: Material) => HAZARD_RANK[hazard.class];
const worstClass = ({ choices }: Meant) => Math.max(...choices.map(({ hazard }) => HAZARD_RANK[hazard.class]));
const choiceOf = ({ id, name, hazard, differs }: Material): Choice => ({ id, name, hazard, differs });

function byDistance(a: Like, b: Like): number {
  if (a.how !== b.how) return a.how === 'whole' ? -1 : 1;
  return a.distance - b.distance || byCodeUnit(a.material.id, b.material.id);
}
