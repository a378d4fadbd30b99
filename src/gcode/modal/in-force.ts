import type { Moves } from '../../model/motion/moves.ts';
import type { BeamState } from './beam.ts';
import type { Drive } from './drive.ts';
import type { Frames } from './frames.ts';
import type { ModalState } from './state.ts';

const MODAL = [
  'motion',
  'plane',
  'absolute',
  'absoluteCentres',
  'feedMode',
  'scale',
  'feed',
  'feedShare',
  'mode',
  'air',
  'mist',
  'tool',
  'system',
] as const satisfies readonly (keyof ModalState)[];

type Modal = Pick<ModalState, (typeof MODAL)[number]>;

/** All that bears on a line from those before it, as a value. Lengths in mm, in the machine's frame. */
export interface InForce extends Readonly<Modal> {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  /** Machine coordinate minus program coordinate. */
  readonly originX: number;
  readonly originY: number;
  /** The number last given for the power. */
  readonly raw: number;
  /** A power above zero is commanded. */
  readonly fires: boolean;
  /** The comment that holds for strokes; null before the first. */
  readonly comment: string | null;
}

/** What is in force for the next line. */
export function inForceOf(
  state: ModalState,
  { x, y, z }: Moves,
  { beam, frames, drive }: { readonly beam: BeamState; readonly frames: Frames; readonly drive: Drive },
): InForce {
  const modal = Object.fromEntries(MODAL.map((name) => [name, state[name]])) as unknown as Modal;
  const { raw, value } = beam;
  const { x: originX, y: originY } = frames;
  return { ...modal, x, y, z, originX, originY, raw, fires: value > 0, comment: drive.comment };
}
