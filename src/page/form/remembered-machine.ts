import { MACHINE_FIELDS, type TypedForm } from './typed-form.ts';

/** A machine as it is kept on this device: the facts that were typed, or the text of its profile. */
export type RememberedMachine =
  | { facts: Pick<TypedForm, (typeof MACHINE_FIELDS)[number]>; profile: null }
  | { facts: null; profile: { id: string; text: string } };

const KEY = 'kerflint-machine';
/** No profile that people write is longer. */
const LONGEST = 200_000;

/** Where a browser keeps nothing for a page from disk, or was told not to, each of these answers with `refused`. */
export type Kept = 'done' | 'refused';

/** What was remembered; null where nothing was, or it cannot be read. */
export function recall(): { machine: RememberedMachine | null; kept: Kept } {
  try {
    const text = localStorage.getItem(KEY);
    return { machine: text === null ? null : parsed(text), kept: 'done' };
  } catch {
    return { machine: null, kept: 'refused' };
  }
}

export function remember(machine: RememberedMachine): Kept {
  try {
    localStorage.setItem(KEY, JSON.stringify(machine));
    return 'done';
  } catch {
    return 'refused';
  }
}

export function forget(): Kept {
  try {
    localStorage.removeItem(KEY);
    return 'done';
  } catch {
    return 'refused';
  }
}

/** Whatever else wrote there is no machine. */
function parsed(text: string): RememberedMachine | null {
  if (text.length > LONGEST) return null;
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return null;
  }
  const { facts, profile } = (value ?? {}) as { facts?: unknown; profile?: unknown };
  if (hasTexts(facts, MACHINE_FIELDS)) return { facts, profile: null };
  return hasTexts(profile, ['id', 'text'] as const) ? { facts: null, profile } : null;
}

function hasTexts<K extends string>(value: unknown, keys: readonly K[]): value is Record<K, string> {
  return (
    typeof value === 'object' &&
    value !== null &&
    keys.every((key) => typeof (value as Record<K, unknown>)[key] === 'string')
  );
}
