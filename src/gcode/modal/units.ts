import type { Moves } from '../../model/motion/moves.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import type { Place } from '../../source/place.ts';
import type { ProblemList } from '../problems.ts';
import { type Block, codeName } from '../text/block.ts';
import type { ModalState } from './state.ts';

/** Millimetres or inches: G20 and G21; G70 and G71 are the units of ISO 6983-1. */
export class Units {
  /** Those that the program stated first. */
  stated: Toolpath['units'] = 'none-stated';
  /** The code that stated the units in force, tenfold; −1 before any has. */
  #code = -1;
  readonly #state: ModalState;
  readonly #moves: Moves;
  readonly #problems: ProblemList;

  constructor(state: ModalState, moves: Moves, problems: ProblemList) {
    this.#state = state;
    this.#moves = moves;
    this.#problems = problems;
  }

  /** Takes up G code i of a line; one that states no units is passed over. */
  code(block: Block, i: number): void {
    const code = block.g[i]!;
    if (code === 200 || code === 700) this.#set('inch', code, block.placeOfG(i));
    else if (code === 210 || code === 710) this.#set('mm', code, block.placeOfG(i));
  }

  #set(to: 'mm' | 'inch', code: number, place: Place): void {
    const state = this.#state;
    const from = state.scale === 1 ? 'mm' : 'inch';
    if (to !== from) {
      const stated = this.#code;
      // Controllers that know G20 and G21 mostly give G70 and G71 another meaning or none.
      const isMixed = stated >= 0 && stated < 700 !== code < 700;
      const how = isMixed ? 'mixed' : this.#moves.moves > 0 ? 'after-motion' : 'ahead';
      if (how !== 'ahead' || stated >= 0) {
        const [first, second] = [stated < 0 ? '' : codeName('G', stated), codeName('G', code)];
        this.#problems.add('units-changed', place, { from, to, how, first, second }, `${how} ${from}`);
      }
      state.scale = to === 'mm' ? 1 : 25.4;
    }
    this.#code = code;
    if (this.stated === 'none-stated') this.stated = to;
  }
}
