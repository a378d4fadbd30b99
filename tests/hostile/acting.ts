// Files of jobs in which every text that a person can choose means to act on whoever reads the report.

/** The head of a sidecar for the demo's machine. */
export const SIDECAR = `kerflint: 1
machine: shed-60w
lens: 2in
material: birch-plywood
thickness: 3 mm ± 0.1 mm
face: bare
zero: machine
`;

/** Commands of runners and terminals, markup, formulas, turned text, half characters, text without end. */
const ACTING = [
  '::error file=x::injected',
  '##[error]injected',
  '%0A::error::injected',
  '\u001b]0;injected\u0007\u001b[2J',
  '\u009b31m',
  '<script>injected</script>',
  '<img src=x onerror=injected>',
  '![injected](https://example.org/x)',
  '=HYPERLINK("https://example.org")',
  '@SUM(1)',
  '\u202egnp.exe',
  '\u2066x',
  'half \ud83d a character',
  'a,b%2Cline=1::injected',
  'a\n::error file=x::injected\n##[error]injected',
  'verdict<<x\npass\nx\nverdict=pass',
  '```\n# injected\n\n[injected]: https:&#47;&#47;example.org',
  'a\r\n## injected\n\ninjected\n===',
  '<h1>injected<h1><details open>',
  'x'.repeat(4096),
];

/** Toolpaths, artwork and sidecars, by name; a name can be such a text too. */
export function actingFiles(): Record<string, string> {
  const names = ACTING.filter((text) => !/[/\0]/.test(text) && text.length < 200);
  const gcode = (text: string) =>
    `G21 G90\n(${text.replaceAll(/[()]/g, '')})\nM4 S2000 F0\nG1 X9999 Q1 ;${text}\nG1 X1e9\nM2\n`;
  const svg = (text: string) => {
    const safe = text.replace(/[<&"]/g, (c) => `&#${c.charCodeAt(0)};`).replace(/\p{Cc}/gu, ' ');
    return `<svg xmlns="http://www.w3.org/2000/svg"><title>${safe}</title><path id="${safe}" class="${safe}" stroke="${safe}" d="M0 0 L5 5 ${safe}"/></svg>`;
  };
  const all: Record<string, string> = {};
  for (const [i, text] of ACTING.entries()) {
    all[`${i}.gcode`] = gcode(text);
    all[`${i}.svg`] = svg(text);
    all[`${i}.job.yaml`] =
      `${SIDECAR}toolpath: ${i}.gcode\nartwork: ${i}.svg\ntasks:\n  - name: ${JSON.stringify(text)}\n    aim: through\n    strokes: { stroke: ${JSON.stringify(text)} }\n    program: { comment: ${JSON.stringify(text)} }\nwaive:\n  - { rule: ${JSON.stringify(text)}, reason: ${JSON.stringify(text)} }\n`;
  }
  for (const text of names) all[`${text}.job.yaml`] = `${SIDECAR}${text}: 1\ntoolpath: ${JSON.stringify(text)}\n`;
  return all;
}
