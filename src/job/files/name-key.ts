/**
 * How names are compared: case, accents, spaces, `-` and `_`, invisible characters and forms of one character (Unicode NFKC) make
 * no difference: `Contreplaqué` is `contreplaque`, `Weiß` is `weiss`.
 */
export function nameKey(name: string): string {
  return name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[\p{Cf}\p{M}]/gu, '')
    .replace(/ß/g, 'ss')
    .replace(/[\s_-]+/g, '-')
    .replace(/^-|-$/g, '');
}
