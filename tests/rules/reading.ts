import type { JobFacts } from '../../src/facts/facts.ts';

function isModel(value: unknown): value is object {
  return typeof value === 'object' && value !== null && !ArrayBuffer.isView(value);
}

/** Facts that note which of their members are read, as paths without the numbers of list entries: `geometry.webs.items.widthMm`. */
export function recorded(facts: JobFacts, read: Set<string>): JobFacts {
  const watch = <T extends object>(model: T, path: string): T =>
    new Proxy(model, {
      get(target, key, receiver) {
        const value = Reflect.get(target, key, receiver);
        if (typeof key === 'symbol' || typeof value === 'function') return value;
        // An entry of a list stands for the list; `length` and the like tell of it too.
        const below = Array.isArray(target) ? path : path === '' ? key : `${path}.${key}`;
        read.add(below);
        return isModel(value) ? watch(value, below) : value;
      },
    });
  return watch(facts, '');
}
