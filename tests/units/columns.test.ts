import { describe, expect, it } from 'vitest';
import { columns } from '../../src/units/columns.ts';

describe('columns', () => {
  it('are as wide as their widest cell on a terminal, where a wide character takes two places (Unicode, UAX 11)', () => {
    expect(
      columns([
        ['lens', 'note'],
        ['透鏡', 'two characters, four places'],
        ['1.5in', 'x'],
      ]),
    ).toEqual(['lens   note', '透鏡   two characters, four places', '1.5in  x']);
  });

  it('leave nothing behind the last cell, and may lack cells', () => {
    expect(columns([['a', 'bb'], ['ccc']])).toEqual(['a    bb', 'ccc']);
    expect(columns([])).toEqual([]);
  });
});
