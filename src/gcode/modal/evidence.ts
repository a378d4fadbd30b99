import type { Place } from '../../source/place.ts';
import type { ProblemList } from '../problems.ts';
import { type Block, codeName, onLine } from '../text/block.ts';

/** Letters that every program has; the others are noted. */
const ORDINARY = [...'FGIJKMNRSXYZ'].reduce((mask, letter) => mask | (1 << (letter.charCodeAt(0) - 65)), 0);

const LETTER_E = 1 << ('E'.charCodeAt(0) - 65);

/** A tool is lifted clear of the work by at least so much: less is how a focus is set. */
const LIFTED_MM = 0.5;

/** Distinct codes and unusual letters of a program by name ("M104", "G81", "E"): how often, and where first. */
export type CodesSeen = Record<string, { count: number; place: Place }>;

/** Which codes and unusual letters a program has: what kind of machine it was written for. */
export class Evidence {
  readonly #g = new Uint32Array(10_000);
  readonly #m = new Uint32Array(10_000);
  readonly #places = new Map<string, Place>();
  readonly #letters = new Map<string, number>();
  /** Times the Z axis went the other way at the feed, without beam. */
  penMoves = 0;
  /** Highest S word. */
  highestS = 0;

  /** Times a tool at its setting went into the work under feed, after it had been lifted out of it. */
  plunges = 0;
  deepestMm = 0;
  #highestZ = Number.NEGATIVE_INFINITY;

  /** Z goes to a height, mm. */
  lifted(toMm: number): void {
    if (toMm > this.#highestZ) this.#highestZ = toMm;
  }

  /** A feed move goes down to a height with the setting above 0, mm. */
  plunge(toMm: number): void {
    if (toMm >= 0) return;
    if (toMm < this.deepestMm) this.deepestMm = toMm;
    if (this.#highestZ < LIFTED_MM) return;
    this.plunges++;
    this.#highestZ = toMm;
  }

  note(block: Block): void {
    for (let i = 0; i < block.gCount; i++) {
      const code = block.g[i]!;
      if (code >= 0 && this.#g[code]!++ === 0) this.#places.set(codeName('G', code), block.placeOfG(i));
    }
    let ordinary = ORDINARY;
    for (let i = 0; i < block.mCount; i++) {
      const code = block.m[i]!;
      // M67 and M68 name their analog output by E: there it is no filament.
      if (code === 670 || code === 680) ordinary |= LETTER_E;
      if (code >= 0 && this.#m[code]!++ === 0) this.#places.set(codeName('M', code), block.placeOfM(i));
    }
    if ((block.mask & ~ordinary) !== 0) this.#unusual(block, ordinary);
  }

  /** The same for a line whose only code is one G word: quicker. */
  noteOneG(block: Block): void {
    const code = block.g[0]!;
    if (this.#g[code]!++ === 0) this.#places.set(codeName('G', code), block.placeOfG(0));
    if ((block.mask & ~ORDINARY) !== 0) this.#unusual(block);
  }

  noteSign(sign: '/' | '%', line: number): void {
    const count = this.#letters.get(sign) ?? 0;
    this.#letters.set(sign, count + 1);
    if (count === 0) this.#places.set(sign, onLine(line, 0, 1));
  }

  #unusual(block: Block, ordinary = ORDINARY): void {
    for (let i = 0; i < 26; i++) {
      if ((block.mask & ~ordinary & (1 << i)) === 0) continue;
      const letter = String.fromCharCode(65 + i);
      const count = this.#letters.get(letter) ?? 0;
      this.#letters.set(letter, count + 1);
      if (count === 0) this.#places.set(letter, block.placeOf(letter));
    }
  }

  codes(): CodesSeen {
    const seen: CodesSeen = Object.create(null);
    for (const [name, place] of this.#places) {
      const count =
        this.#letters.get(name) ?? (name[0] === 'G' ? this.#g : this.#m)[Math.round(Number(name.slice(1)) * 10)]!;
      seen[name] = { count, place };
    }
    return seen;
  }
}

const EXTRUDER_NAMES = ['M104', 'M109', 'M140', 'M190', 'M82', 'M83'];
const CYCLE_NAMES = ['G73', 'G76', 'G81', 'G82', 'G83', 'G84', 'G85', 'G86', 'G87', 'G88', 'G89'];
const BEAM_NAMES = ['M3', 'M4', 'M106', 'M67', 'M68'];

/** What speaks for a machine of one kind: the code or letter that shows it, and what it is in words. */
interface Sign {
  name: string;
  evidence: string;
}

/** Says so when a program was plainly written for another kind of machine. `full` is the number that means full power. */
export function judgeKind(seen: CodesSeen, evidence: Evidence, full: number, problems: ProblemList): void {
  const signs: Record<string, Sign | null> = {
    extruder: extruderSign(seen),
    drill: drillSign(seen),
    mill: millSign(seen, evidence, full),
  };
  const another = Object.values(signs).some((sign) => sign !== null);
  // Adaptive feed serves torch height controls (from memory of their post-processors).
  signs['plasma'] =
    seen['M52'] && seen['M3'] ? { name: 'M52', evidence: 'M52 (adaptive feed of a torch height control)' } : null;
  signs['plotter'] = another ? null : plotterSign(seen, evidence);
  for (const [kind, sign] of Object.entries(signs)) {
    if (sign) problems.add('wrong-kind', seen[sign.name]!.place, { kind, evidence: sign.evidence }, kind);
  }
}

function firstOf(seen: CodesSeen, names: string[]): string | undefined {
  return names.find((name) => seen[name] !== undefined);
}

function extruderSign(seen: CodesSeen): Sign | null {
  const name = firstOf(seen, EXTRUDER_NAMES);
  if (name !== undefined) return { name, evidence: `${name} (heaters or filament)` };
  const words = seen['E']?.count ?? 0;
  return words > 1 ? { name: 'E', evidence: `${words} E words (filament)` } : null;
}

function drillSign(seen: CodesSeen): Sign | null {
  const name = firstOf(seen, CYCLE_NAMES);
  return name === undefined ? null : { name, evidence: `${name} (a canned cycle)` };
}

/**
 * A spindle goes into the work under feed with its speed on, and is lifted out of it again and again. Tool changes, M8 and an S above the
 * scale alone show nothing: laser programs have them too.
 */
function millSign(seen: CodesSeen, evidence: Evidence, full: number): Sign | null {
  const { highestS, penMoves, plunges, deepestMm } = evidence;
  const name = firstOf(seen, ['M3', 'M4']);
  if (name === undefined) return null;
  if (highestS > 2 * full && (deepestMm < 0 || penMoves > 1)) {
    const depth = deepestMm < 0 ? `a depth of ${-deepestMm} mm` : 'a Z that goes up and down';
    return { name, evidence: `a spindle at S${highestS} and ${depth}` };
  }
  const lengths = seen['M6'] && seen['G43'] ? ', with tool changes and tool lengths' : '';
  if (plunges < (lengths === '' ? 2 : 1)) return null;
  return { name, evidence: `S above 0 in ${plunges} plunges down to Z${deepestMm}${lengths}` };
}

function plotterSign(seen: CodesSeen, { penMoves }: Evidence): Sign | null {
  if (firstOf(seen, BEAM_NAMES) !== undefined) return null;
  const pen = firstOf(seen, ['M300', 'M280']);
  if (pen !== undefined) return { name: pen, evidence: `${pen} (a pen lift) and no beam` };
  return penMoves > 2 && seen['G1']
    ? { name: 'G1', evidence: 'a Z that goes up and down and nothing that switches a beam on' }
    : null;
}
