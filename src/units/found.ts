/**
 * What a search found. All of it is kept, so that whoever asks may choose among it; a list is cut only where it is shown.
 */
export interface Found<T> {
  /** There are just so many; where the search ended early, at least so many. */
  readonly items: readonly T[];
  /**
   * Why the search ended before it had looked at everything, in words that stand for themselves ("there are more than 10000
   * crossings"); null when it looked at everything.
   */
  readonly endedEarly: string | null;
}

/** All that there is. */
export function everything<T>(items: readonly T[]): Found<T> {
  return { items, endedEarly: null };
}

/** Those of the items for which `keep` holds; how the search ended stays. */
export function where<T>({ items, endedEarly }: Found<T>, keep: (item: T) => boolean): Found<T> {
  return { items: items.filter(keep), endedEarly };
}

/** What `change` makes of each item; how the search ended stays. */
export function mapped<T, U>({ items, endedEarly }: Found<T>, change: (item: T) => U): Found<U> {
  return { items: items.map((item) => change(item)), endedEarly };
}
