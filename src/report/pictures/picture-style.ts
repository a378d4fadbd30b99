/**
 * Colours and line styles of the pictures. The margin scale falls in even steps of lightness (CIE L* about 11 apart), so
 * that it survives grey printing and every kind of colour blindness; width and dashes say the same a second time. The least
 * sure cut stands out most: darkest on light paper, brightest on dark.
 */
type Inks = Record<
  'paper' | 'sheet' | 'stock' | 'ink' | 'soft' | 'faint' | 'rule' | 'band' | 'm0' | 'm1' | 'm2' | 'm3' | 'm4',
  string
>;

export const LIGHT_INKS: Inks = {
  paper: '#fffdf8',
  sheet: '#f6efe0',
  stock: '#e3c99b',
  ink: '#1c1b18',
  soft: '#5c574d',
  faint: '#8a8375',
  rule: '#d9d2c3',
  band: '#ddd6c8',
  m0: '#320543',
  m1: '#342972',
  m2: '#1a527c',
  m3: '#1b747d',
  m4: '#4c945d',
};

export const DARK_INKS: Inks = {
  paper: '#1d1e21',
  sheet: '#2a2925',
  stock: '#5d4a2f',
  ink: '#f1eee6',
  soft: '#b9b3a6',
  faint: '#8f8a7f',
  rule: '#44423d',
  band: '#45433e',
  m0: '#fbf488',
  m1: '#b0e477',
  m2: '#54cba7',
  m3: '#3ba5bc',
  m4: '#5f80ca',
};

/** Widths and dashes of the margin classes in CSS px, on any scale of the picture. */
const MARGIN_LINES: { width: number; dash: string }[] = [
  { width: 4.5, dash: 'none' },
  { width: 3.6, dash: '9 3' },
  { width: 2.8, dash: '5 3' },
  { width: 2, dash: '2.5 2.5' },
  { width: 1.6, dash: 'none' },
];

/** Rules for the classes that pictures use; colours come in as custom properties. */
export const PICTURE_CSS = [
  '.pic{font-family:ui-sans-serif,system-ui,"Helvetica Neue",Arial,"DejaVu Sans",sans-serif}',
  '.pic text{fill:var(--ink)}.pic .t-soft{fill:var(--soft)}.pic .t-bold{font-weight:700}.pic .t-mid{text-anchor:middle}.pic .t-end{text-anchor:end}',
  '.pic .halo{paint-order:stroke;stroke:var(--paper);stroke-width:3px;stroke-linejoin:round}',
  '.p-paper{fill:var(--paper)}.p-sheet{fill:var(--sheet)}.p-edge{fill:none;stroke:var(--ink);stroke-width:1.2px}',
  '.p-axis{stroke:var(--ink);stroke-width:1px;fill:none}.p-rule{stroke:var(--rule);stroke-width:1px;fill:none}.p-band{fill:var(--band)}',
  '.p-line{fill:none;stroke:var(--ink);stroke-width:2px}.p-thin{fill:none;stroke:var(--ink);stroke-width:1px}.p-dash{fill:none;stroke:var(--ink);stroke-width:1.2px;stroke-dasharray:5 3}',
  '.p-ink{fill:var(--ink)}.p-dot{fill:var(--paper);stroke:var(--ink);stroke-width:2px}',
  '.p-beam{fill:var(--m3);fill-opacity:.3}.p-free{fill:none;stroke:var(--m3);stroke-width:1.2px;stroke-dasharray:3 3}.p-kerf{fill:var(--paper);stroke:var(--ink);stroke-width:1.2px}',
  '.pic .halo-stock{paint-order:stroke;stroke:var(--stock);stroke-width:3px;stroke-linejoin:round}',
  '.p-stock{fill:var(--stock)}.p-hatch{fill:none;stroke:var(--ink);stroke-width:1.2px}.p-doubt{fill:var(--faint)}.p-glass{fill:var(--sheet);stroke:var(--ink);stroke-width:1.5px}.p-locator{fill:none;stroke:var(--soft);stroke-width:1px;stroke-dasharray:2 3}',
  '.p-sure{fill:none;stroke:var(--ink);stroke-width:3px}.p-sure.l1{stroke-dasharray:10 4}.p-sure.l2{stroke-dasharray:3 3}.p-sure.l3{stroke-dasharray:12 3 3 3}.p-median{fill:none;stroke:var(--ink);stroke-width:1px}.p-goal{fill:none;stroke:var(--m1);stroke-width:3px;stroke-dasharray:1 4;stroke-linecap:round}',
  '.p-artwork{fill:none;stroke:var(--faint);stroke-width:1px}.p-travel{fill:none;stroke:var(--faint);stroke-width:.7px;stroke-dasharray:1 4}',
  '.p-cut{fill:none;stroke-linejoin:round}',
  ...MARGIN_LINES.map(
    ({ width, dash }, i) => `.m${i}{stroke:var(--m${i});stroke-width:${width}px;stroke-dasharray:${dash}}`,
  ),
  '.m-groove{stroke:var(--ink);stroke-width:1.2px;stroke-dasharray:7 2 1.5 2}.m-none{stroke:var(--soft);stroke-width:2px;stroke-dasharray:1.5 4}',
  '.p-cut.dense,.p-travel.dense{stroke-dasharray:none}.p-travel.dense{stroke-opacity:.35}',
  '.p-hit{fill:none;stroke:transparent;stroke-width:14px;stroke-dasharray:none;pointer-events:stroke}',
  '.p-bed{fill:none;stroke:var(--soft);stroke-width:2.4px;stroke-dasharray:12 4}.p-margin{fill:var(--paper);fill-opacity:.86}.p-start{fill:var(--ink);stroke:var(--paper);stroke-width:1px}',
  '.p-area{stroke:var(--soft);stroke-width:1px}.p-area-hatch{stroke:var(--ink)}',
  '.pin path,.pin circle{fill:var(--paper);stroke:var(--ink);stroke-width:1.5px}.pin text{font-size:11px;font-weight:700;text-anchor:middle}',
  '.pin.error path,.pin.error circle{fill:var(--ink)}.pin.error text{fill:var(--paper)}',
].join('\n');

/** The rules with their colours written in, for a picture that stands alone. */
export function standaloneCss(inks: Inks = LIGHT_INKS): string {
  return PICTURE_CSS.replace(/var\(--([a-z0-9]+)\)/g, (whole, name: string) => inks[name as keyof Inks] ?? whole);
}

/** Custom properties of an ink set, for a style sheet. */
export function inkProperties(inks: Inks): string {
  return Object.entries(inks)
    .map(([name, colour]) => `--${name}:${colour}`)
    .join(';');
}
