import { describe, expect, it } from 'vitest';
import { text } from '../../src/report/text/text.ts';
import { finding, job, run } from '../findings/results.ts';
import { context } from './context.ts';

const ESC = '\u001b';
const lines = (...args: Parameters<typeof text>) => text(...args).split('\n');

describe('the text report', () => {
  it('says the verdict first, then the worst job and its worst finding, then what passed, then the sum', () => {
    const jobs = [
      job({ name: 'tray', waste: null, time: null }),
      job({ name: 'labels', findings: [finding({ severity: 'warning', message: 'Look here.' })] }),
      job({ findings: [finding({ severity: 'note', message: 'By the way.' }), finding()] }),
    ];
    expect(text(run(jobs), context())).toBe(`Do not run: 1 of 3 jobs (gate).

gate
  Do not run: predicted depth 4.1 mm (3.0–5.3) of 6.0 mm birch plywood after 1 pass at 48 W, 12
  mm/s.
  birch-plywood 6.0 mm · bench-60w, lens 2in · 3 % likely to go through · 3 min 2 s · expected waste
  4.58 of 4.72 EUR

  error  signs/gate.gcode:12:4  cut/short-of-through
    Predicted depth 4.1 mm (3.0–5.3) of 6.0 mm birch plywood after 1 pass at 48 W, 12 mm/s. Slow to
    7.5 mm/s.
    12 | G1 F720 X10
       |    ^^^^

  note  signs/gate.gcode:12:4  cut/short-of-through
    By the way.
    12 | G1 F720 X10
       |    ^^^^

labels
  Found no error in what was checked: the one cut is 3 % likely to part the sheet; 1 warning to look
  at.
  birch-plywood 6.0 mm · bench-60w, lens 2in · 3 % likely to go through · 3 min 2 s · expected waste
  4.58 of 4.72 EUR

  warning  signs/gate.gcode:12:4  cut/short-of-through
    Look here.
    12 | G1 F720 X10
       |    ^^^^

tray
  Found no error in what was checked: the one cut is 3 % likely to part the sheet.
  birch-plywood 6.0 mm · bench-60w, lens 2in · 3 % likely to go through

3 jobs · 1 error, 1 warning, 1 note · expected waste 9.16 EUR
kerflint explain cut/short-of-through tells why it matters and how to put it right.

Never leave a running laser unattended; extraction on, extinguisher at hand, interlocks working. The
material's safety data sheet, the machine's manual and local rules decide.
`);
  });

  it('never calls anything safe', () => {
    for (const jobs of [[], [job()], [job({ findings: [finding()] })], [job({ incomplete: ['x'] })]]) {
      expect(text(run(jobs), context())).not.toMatch(/\bsafe(?!ty data sheet)/i);
    }
  });

  it('does not read as a pass when nothing was checked', () => {
    expect(lines(run([], [{ file: 'a.svg', reason: 'no sidecar names it' }]), context())).toEqual([
      'Nothing was judged: no job was found; 1 file was left out.',
      '',
      'Left out (1): no sidecar names it',
      '  a.svg',
      '',
      '0 jobs · nothing',
      '',
      'Never leave a running laser unattended; extraction on, extinguisher at hand, interlocks working. The',
      "material's safety data sheet, the machine's manual and local rules decide.",
      '',
    ]);
  });

  it('says why a job was not judged whole, and which rule failed', () => {
    const notChecked = [{ rule: 'cut/marginal', kind: 'failed' as const, reason: 'no message "x"' }];
    const page = text(run([job({ incomplete: ['the material is unknown'], notChecked })]), context());
    expect(page).toMatch(/^Not judged: the material is unknown \(and 1 more reason\)\.\n\ngate\n/);
    expect(page).toMatch('\n  not judged: cut/marginal failed: no message "x"\n');
  });

  it('keeps waived findings in sight', () => {
    const page = text(
      run([job({ findings: [finding({ status: 'waived', reason: 'proved on coupon 12' })] })]),
      context(),
    );
    expect(page).toMatch(
      'Waived, and still so (1):\n  signs/gate.gcode:12:4  cut/short-of-through: proved on coupon 12\n',
    );
    expect(page).toMatch('1 waived');
  });

  it('when quiet shows errors only, and counts what it hides', () => {
    const jobs = [
      job({ name: 'tray' }),
      job({ findings: [finding(), finding({ severity: 'warning', message: 'Hidden.' })] }),
    ];
    const page = text(run(jobs), context({ quiet: true }));
    expect(page).not.toMatch(/Hidden\.|tray/);
    expect(page).toMatch('1 error, 1 warning · 1 of them hidden by --quiet');
  });

  it('marks the place whatever comes ahead of it on the line', () => {
    const marked = (line: string, column: number, endColumn: number) => {
      const location = { file: 'a', line: 1, column, endLine: 1, endColumn };
      const page = lines(
        run([job({ findings: [finding({ location, excerpt: { startLine: 1, lines: [line] } })] })]),
        context(),
      );
      return page.filter((one) => one.includes(' | ')).map((one) => one.slice(one.indexOf('|') + 2));
    };
    expect(marked('\tG1 X5', 5, 7)).toEqual([' G1 X5', '    ^^']);
    expect(marked('蒔く X5', 4, 6)).toEqual(['蒔く X5', '     ^^']);
    expect(marked('😀 X5', 4, 6)).toEqual(['😀 X5', '   ^^']);
    expect(marked('G1 X5', 6, 6)).toEqual(['G1 X5', '     ^']);
  });

  it('cuts a wide line around the place', () => {
    const line = `${'x'.repeat(90)}HERE${'y'.repeat(90)}`;
    const location = { file: 'a', line: 7, column: 91, endLine: 7, endColumn: 95 };
    const page = lines(
      run([job({ findings: [finding({ location, excerpt: { startLine: 7, lines: [line] } })] })]),
      context({ width: 60 }),
    );
    const [shown = '', mark = ''] = page.filter((one) => one.includes(' | '));
    expect(shown.length).toBeLessThanOrEqual(60);
    expect(shown.slice(mark.indexOf('^'), mark.lastIndexOf('^') + 1)).toBe('HERE');
    expect(shown).toMatch(/\| …x+HEREy+…$/);
  });

  it('finds the place in a line that the excerpt already cut', () => {
    const location = { file: 'a', line: 1, column: 5001, endLine: 1, endColumn: 5005 };
    const excerpt = { startLine: 1, lines: [`${'x'.repeat(60)}HERE${'y'.repeat(136)}`], startColumn: 4941 };
    const [shown = '', mark = ''] = lines(run([job({ findings: [finding({ location, excerpt })] })]), context()).filter(
      (one) => one.includes(' | '),
    );
    expect(shown.slice(mark.indexOf('^'), mark.lastIndexOf('^') + 1)).toBe('HERE');
  });

  it('stays within the width, but for words that are longer', () => {
    const page = lines(run([job({ findings: [finding({ hints: [finding().message] })] })]), context({ width: 50 }));
    expect(page.filter((line) => line.length > 50)).toEqual([]);
  });

  it('counts what it leaves out of a job with very many findings', () => {
    const findings = Array.from({ length: 30_000 }, (_, i) => finding({ message: `No. ${i}.` }));
    const page = text(run([job({ findings })]), context());
    expect(page).toMatch('… and 29950 more findings: --format json lists all.');
    expect(page.length).toBeLessThan(50_000);
  });

  it('has no escape codes without colour, and the same words with it', () => {
    const result = run([job({ findings: [finding()] }), job({ name: 'tray' })]);
    const plain = text(result, context());
    const painted = text(result, context({ colour: true }));
    expect(plain).not.toContain(ESC);
    expect(painted).toContain(`${ESC}[31m`);
    expect(painted.split(new RegExp(`${ESC}\\[\\d+m`)).join('')).toBe(plain);
  });

  it.each(['\u001b[2J', '\u009b31m', '::error::x', '##[error]x', '\u202e', '\ud800', 'a\nb', '\r'])(
    'shows %j in any field without letting it act',
    (evil) => {
      const bad = finding({
        message: `m ${evil}`,
        hints: [evil],
        related: [{ file: evil, line: 1, column: 1, endLine: 1, endColumn: 1, message: evil }],
        location: { file: evil, line: 1, column: 1, endLine: 1, endColumn: 1 },
        excerpt: { startLine: 1, lines: [evil] },
      });
      const waived = finding({ status: 'waived', reason: evil });
      const jobs = [job({ name: evil, material: evil, machine: evil, findings: [bad, waived], incomplete: [evil] })];
      const page = text(run(jobs, [{ file: evil, reason: evil }]), context());
      expect(page).not.toMatch(/[^\n\P{Cc}]|\p{Surrogate}|\u202e|##\[/u);
      expect(page.split('\n').filter((line) => /^\s*::/.test(line))).toEqual([]);
    },
  );
});
