import { readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { describe, expect, it } from 'vitest';
import { PutAside, TextAside } from '../../src/cli/files/put-aside.ts';

/** Larger than what is kept in memory. */
const LARGE = 5 << 20;

describe('what is put aside', () => {
  it.each([
    ['few pieces, which stay in memory', [3, 0, 5]],
    ['pieces that need a file', [LARGE, 1, 0, LARGE, 7]],
    ['many that need one together', Array.from({ length: 200 }, (_, i) => 60_000 + i)],
  ])('comes back as it was: %s', (_, sizes) => {
    const aside = new PutAside();
    const pieces = sizes.map((size, i) => new Uint8Array(size).fill(i % 251));
    for (const piece of pieces) aside.put(piece);
    let i = 0;
    for (const piece of aside.pieces()) {
      expect(piece.length).toBe(sizes[i]);
      expect(Buffer.compare(piece, pieces[i]!)).toBe(0);
      i++;
    }
    expect(i).toBe(sizes.length);
    aside.remove();
  });

  it('leaves no name in the folder for temporary files while it is held', () => {
    const before = new Set(readdirSync(tmpdir()));
    const aside = new PutAside();
    aside.put(new Uint8Array(LARGE));
    const added = readdirSync(tmpdir()).filter((name) => !before.has(name));
    expect(added.filter((name) => /^kerflint-[A-Za-z0-9]{6}$/.test(name))).toEqual([]);
    aside.remove();
  });

  it('keeps text, whatever its characters, in one order', () => {
    const texts = Array.from({ length: 3000 }, (_, i) => `${i} Größe 3 µm 🪵 \ufeff${'x'.repeat(i % 97)}\n`);
    const aside = new TextAside();
    for (const text of texts) aside.add(text);
    expect([...aside.pieces()].join('')).toBe(texts.join(''));
    const bytes = Array.from(aside.bytes(), (piece) => Buffer.from(piece));
    expect(Buffer.concat(bytes).equals(Buffer.from(texts.join('')))).toBe(true);
    aside.close();
  });
});
