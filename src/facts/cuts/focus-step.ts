import type { Machine } from '../../job/model.ts';

/** Whether the machine can move the waist through the sheet from one pass to the next: its controller moves Z, and has room to. */
export function stepsFocus({ controller, travel }: Machine): boolean {
  return controller.zZero !== 'fixed' && travel.zMm !== null && travel.zMm > 0;
}
