import type { Beam } from '../beam/focused-beam.ts';
import { BELOW, type SpentToDepth, spentToDepth } from '../march/march.ts';
import type { CutPass } from '../march/passes.ts';
import { CONDUCTION_EXPONENT, conductionScale, type Stock } from '../march/stock.ts';
import type { DoubtPlace, DoubtSamples } from './samples.ts';

/** Share of the energy by which a cut has to be over or under what parts the sheet, to be told without a march, which errs by far less. */
const SURE_SHARE = 0.03;
/** Of a margin so much is relied on: a march errs by less than a fifth of {@link SURE_SHARE}. */
const RELIED_ON = 0.8;
/** Sheets under a beam that are remembered for one list of places. */
const MOST_REMEMBERED = 24;

/** What of a cut the screen needs. */
export interface ScreenedCut {
  beam: Beam;
  stock: Stock;
  passes: readonly CutPass[];
  thicknessMm: number;
}

/**
 * Tells without a march at which points of the doubt a cut parts the sheet, where that is plain. Passes at one focus and one speed spend their
 * power on one line of cost after the other, so what it takes down to a depth is two integrals over the beam's width, whatever power, speed and
 * removal energy: they are made once for a beam, a focus and a sheet, and hold for job after job.
 */
export class PartingScreen {
  readonly #cut: ScreenedCut;
  readonly #samples: DoubtSamples;
  /** By place. */
  readonly #spent: (SpentToDepth | undefined)[];
  readonly #powerW: number;
  readonly #removal: number;
  readonly #conduction: number;

  private constructor(cut: ScreenedCut, samples: DoubtSamples) {
    const { stock, passes } = cut;
    const { speedMmPerS } = passes[0]!;
    this.#cut = cut;
    this.#samples = samples;
    this.#spent = remembered(cut, samples.places);
    this.#powerW = passes.reduce((sum, pass) => sum + pass.powerW, 0);
    this.#removal = stock.removalJPerMm3 * speedMmPerS;
    this.#conduction = conductionScale(stock) * speedMmPerS ** CONDUCTION_EXPONENT;
  }

  /** Null for passes at several speeds or focus positions, where only a march tells. */
  static of(cut: ScreenedCut, samples: DoubtSamples): PartingScreen | null {
    const [first, ...others] = cut.passes;
    const alike = others.every(
      ({ speedMmPerS, focusMm }) => speedMmPerS === first?.speedMmPerS && focusMm === first.focusMm,
    );
    return first !== undefined && alike ? new PartingScreen(cut, samples) : null;
  }

  /**
   * A depth less the thickness that has the sign of the true one and is nearer to 0, mm; NaN where it is too near to tell.
   * @param point in the order of the samples
   */
  boundMm(point: number): number {
    const { places, removalFactors, powerFactors, order } = this.#samples;
    const place = order[point]!;
    const spent = this.#spent[place] ?? this.#spentAt(place);
    const removal = this.#removal * removalFactors[place]!;
    const needW = removal * spent.widths + this.#conduction * spent.powers;
    const share = (this.#powerW * powerFactors[place]!) / needW - 1;
    if (!(Math.abs(share) > SURE_SHARE)) return Number.NaN;
    // What is over or short is spent on the stretch between the sheet's underside and where the cut ends: at most at the cost of its widest place.
    const widest = share < 0 ? spent.widestAbove : spent.widestBelow;
    const marginMm = (share * needW) / (removal * widest.widthMm + this.#conduction * widest.loss);
    const { thicknessMm } = this.#cut;
    const underside = (thicknessMm + places[place]!.thicknessShiftMm) * (BELOW - 1);
    return RELIED_ON * Math.min(marginMm, underside);
  }

  #spentAt(place: number): SpentToDepth {
    const { beam, passes, thicknessMm } = this.#cut;
    const { divergenceShare, focusShiftMm, thicknessShiftMm } = this.#samples.places[place]!;
    const spent = spentToDepth(
      beam,
      divergenceShare,
      passes[0]!.focusMm + focusShiftMm,
      thicknessMm + thicknessShiftMm,
    );
    this.#spent[place] = spent;
    return spent;
  }
}

/** By the list of places, whose every use for the same doubt is the same object, and by what else the integrals rest on. */
const rememberedByPlaces = new WeakMap<readonly DoubtPlace[], Map<string, (SpentToDepth | undefined)[]>>();

function remembered({ beam, passes, thicknessMm }: ScreenedCut, places: readonly DoubtPlace[]) {
  const atPlaces = rememberedByPlaces.get(places) ?? new Map<string, (SpentToDepth | undefined)[]>();
  rememberedByPlaces.set(places, atPlaces);
  const key = `${beam.spotMm} ${beam.cone} ${passes[0]!.focusMm} ${thicknessMm}`;
  const known = atPlaces.get(key);
  if (known !== undefined) return known;
  if (atPlaces.size >= MOST_REMEMBERED) atPlaces.delete(atPlaces.keys().next().value!);
  const spent: (SpentToDepth | undefined)[] = new Array(places.length).fill(undefined);
  atPlaces.set(key, spent);
  return spent;
}
