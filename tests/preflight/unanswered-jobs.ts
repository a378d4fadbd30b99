import { execFileSync } from 'node:child_process';
import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  artworkJob,
  drawing,
  LABEL,
  program,
  type SmallJob,
  sidecar,
  square,
  through,
  toolpathJob,
} from './small-jobs.ts';

const BARE = { machine: 'shed-60w', lens: '2in', material: 'birch-plywood', thickness: '3 mm' };
const MDF = { material: 'mdf', thickness: '40 mm' };
const SOUND = toolpathJob(program(square()));

/** A machine of what people know of theirs, beside the job, and a job that is meant for it. */
const FOUR_FACTS = {
  'machines/barn.machine.yaml':
    'kerflint: 1\nid: barn\nsource: { kind: co2, rated: 60 W }\nlenses: [{ focal: 2 in }]\ntravel: { x: 500 mm, y: 300 mm }\n',
};
const BARN = { machine: 'barn' };

/** Artwork whose outline is cut as planned, with something beside it that the reader leaves out of the same task. */
const besides = (left: string) =>
  artworkJob(
    `<g id="plate">${LABEL}${left}</g>`,
    {},
    through('strokes: { id: plate }', 'power: 80 %, speed: 9 mm/s, air: 1 bar'),
  );

/** Every way of not being asked: none may exit 0 or read as clean. */
export const UNANSWERED: Record<string, SmallJob[]> = {
  'a beam that never fires': [
    { it: 'the power is 0 throughout', files: toolpathJob(program(square(), 'M3 S0 F540')) },
    { it: 'no power is set', files: toolpathJob(program(square(), 'M3 F540')) },
    {
      it: 'the beam is switched by the word of another dialect',
      files: toolpathJob(program(square(), 'M106 S255\nF540', 'M107\n')),
    },
    { it: 'power is set and the beam never switched on', files: toolpathJob(program(square(), 'S800 F540')) },
    { it: 'the power is negative', files: toolpathJob(program(square(), 'M4 S-800 F540')) },
    { it: 'two hours of motion without a beam', files: toolpathJob(program(square().repeat(40), 'M5\nF60')) },
    { it: 'a bare toolpath without power', files: { 'label.gcode': program(square(), 'M3 S0 F540') }, options: BARE },
  ],
  'artwork without settings': [
    { it: 'is too thick for the source', files: artworkJob(LABEL, MDF, '') },
    { it: 'is too thick for the source, bare', files: { 'label.svg': drawing(LABEL) }, options: { ...BARE, ...MDF } },
    {
      it: 'is too thick, with a task that plans nothing',
      files: artworkJob(LABEL, MDF, through('strokes: { id: outline }')),
    },
    { it: 'names no machine', files: artworkJob(LABEL, { machine: null, lens: null }, '') },
    { it: 'names no material', files: artworkJob(LABEL, { material: null }, '') },
    { it: 'names no thickness', files: artworkJob(LABEL, { thickness: null }, '') },
  ],
  'a fact that is missing': [
    { it: 'the material', files: toolpathJob(program(square()), { material: null }) },
    { it: 'the thickness', files: toolpathJob(program(square()), { thickness: null }) },
    { it: 'the machine', files: toolpathJob(program(square()), { machine: null, lens: null }) },
    { it: 'the material is said to be unknown', files: toolpathJob(program(square()), { material: 'unknown' }) },
    {
      it: 'of a bare toolpath the thickness',
      files: { 'label.gcode': program(square()) },
      options: { machine: 'shed-60w', lens: '2in', material: 'birch-plywood' },
    },
    {
      it: 'of a bare toolpath the material',
      files: { 'label.gcode': program(square()) },
      options: { machine: 'shed-60w', lens: '2in', thickness: '3 mm' },
    },
    { it: 'of planned artwork the material', files: artworkJob(LABEL, { material: null }) },
    { it: 'of planned artwork the thickness', files: artworkJob(LABEL, { thickness: null }) },
  ],
  'a power scale that is not stated, or not the one of the program': [
    { it: 'the profile of four facts states none', files: { ...FOUR_FACTS, ...toolpathJob(program(square()), BARN) } },
    {
      it: 'the profile of four facts states none, with artwork that says the same',
      files: {
        ...FOUR_FACTS,
        ...toolpathJob(
          program(square()),
          { ...BARN, artwork: 'label.svg' },
          through('strokes: { id: outline }', 'power: 80 %, speed: 9 mm/s, air: 1 bar'),
        ),
        'label.svg': drawing(LABEL),
      },
    },
    {
      it: 'a bare toolpath for a machine that states none',
      files: { ...FOUR_FACTS, 'label.gcode': program(square()) },
      options: { ...BARE, machine: 'barn' },
    },
    {
      it: 'nothing is planned and the program is full on a scale of 255',
      files: toolpathJob(program(square(), 'M4 S255 F60')),
    },
    {
      it: 'S204 of 1000 where 80 % is planned',
      files: toolpathJob(
        program(square(), 'M4 S204 F60'),
        {},
        through('strokes: { stroke: "#6a3d9a" }', 'power: 80 %, speed: 1 mm/s, air: 1 bar'),
      ),
    },
    {
      it: 'S1000 on a controller that is full at 255',
      files: {
        ...FOUR_FACTS,
        'machines/barn.machine.yaml': `${FOUR_FACTS['machines/barn.machine.yaml']}controller: { power: { word: S, full: 255 } }\n`,
        ...toolpathJob(program(square(), 'M4 S1000 F540'), BARN),
      },
    },
  ],
  'a task that matches nothing, or strokes that belong to none': [
    {
      it: 'a typo in a comment',
      files: toolpathJob(program(`(outline)\n${square()}`), {}, through('program: { comment: outlnie }')),
    },
    {
      it: 'a tool that the program does not take',
      files: toolpathJob(program(`T1\n${square()}`), {}, through('program: { tool: 2 }')),
    },
    {
      it: 'a typo in an id',
      files: artworkJob(LABEL, {}, through('strokes: { id: outlnie }', 'power: 80 %, speed: 9 mm/s, air: 1 bar')),
    },
    {
      it: 'a colour that nothing has',
      files: artworkJob(LABEL, {}, through('strokes: { stroke: "#117733" }', 'power: 80 %, speed: 9 mm/s, air: 1 bar')),
    },
    {
      it: 'strokes beside those of the task, too fast to part the sheet',
      files: toolpathJob(
        program(`(outline)\n${square()}(name)\nS300 F4000\n${square(20, 20, 10)}`),
        {},
        through('program: { comment: outline }'),
      ),
    },
    {
      it: 'all that is planned is a groove, and more is cut',
      files: toolpathJob(
        program(`(groove)\n${square()}(rest)\nS300 F4000\n${square(60, 10, 20)}`),
        {},
        '  - { name: groove, aim: groove, program: { comment: groove } }\n',
      ),
    },
  ],
  'a cut without a prediction': [
    { it: 'the power sinks to nothing with the speed', files: toolpathJob(program(square(), 'M4 S1 F99999999')) },
    { it: 'no feed is set', files: toolpathJob(program(square(), 'M4 S800')) },
    {
      it: 'this material has no removal energy',
      files: toolpathJob(program(square()), { material: 'slate', thickness: '5 mm' }),
    },
  ],
  'artwork with nothing to cut, or less than is drawn': [
    { it: 'empty', files: artworkJob('') },
    { it: 'only definitions', files: artworkJob(`<defs>${LABEL}</defs>`) },
    {
      it: 'a switch that chooses nothing',
      files: artworkJob(`<switch><g requiredExtensions="http://example.org/no">${LABEL}</g></switch>`),
    },
    { it: 'elements that are unknown', files: artworkJob('<plate width="40" height="40"/>') },
    { it: 'only metadata', files: artworkJob('<metadata>a label</metadata><title>label</title>') },
    { it: 'nothing, bare', files: { 'label.svg': drawing('<desc>a label</desc>') }, options: BARE },
    { it: 'hidden', files: besides('<path d="M15 15H30V30H15Z" stroke="#6a3d9a" fill="none" visibility="hidden"/>') },
    { it: 'not displayed', files: besides('<path d="M15 15H30V30H15Z" stroke="#6a3d9a" fill="none" display="none"/>') },
    {
      it: 'clipped away',
      files: besides(
        '<clipPath id="far"><rect x="80" y="80" width="5" height="5"/></clipPath><path d="M15 15H30V30H15Z" stroke="#6a3d9a" fill="none" clip-path="url(#far)"/>',
      ),
    },
    { it: 'used from another file', files: besides('<use href="parts.svg#hole"/>') },
    {
      it: 'animated',
      files: besides(
        '<path d="M15 15H30V30H15Z" stroke="#6a3d9a" fill="none"><animate attributeName="d" to="M0 0H90V90Z" dur="1s"/></path>',
      ),
    },
    { it: 'live text', files: besides('<text x="12" y="30" stroke="#6a3d9a" fill="none">Tomato</text>') },
    {
      it: 'a marker on a path without stroke',
      files: besides(
        '<marker id="m" markerWidth="9" markerHeight="9"><path d="M0 0L5 5" stroke="#6a3d9a"/></marker><path d="M15 15H30" stroke="none" fill="none" marker-end="url(#m)"/>',
      ),
    },
    {
      it: 'filled with a pattern',
      files: besides(
        '<pattern id="p" width="4" height="4" patternUnits="userSpaceOnUse"><path d="M0 0L4 4" stroke="#6a3d9a"/></pattern><rect x="15" y="15" width="20" height="20" fill="url(#p)"/>',
      ),
    },
  ],
  'words that change beam, speed or motion and are not followed': [
    {
      it: 'a scale of the power that leaves too little of it',
      files: toolpathJob(program(square(), '$30=10000\nM4 S800 F540')),
    },
    ...['M50 P0', 'M10', 'M11', 'M42 P4 S255', 'M452', 'M62 P0', 'M68 E0 Q5', 'M987', 'G187 P3'].map((word) => ({
      it: word,
      files: toolpathJob(program(`${word}\n${square()}`)),
    })),
    { it: 'a power halved by M221', files: toolpathJob(program(square(), 'M221 S5\nM4 S800 F540')) },
    { it: 'a speed raised by M220', files: toolpathJob(program(square(), 'M220 S900\nM4 S800 F540')) },
    {
      it: 'motion with the beam on after M2',
      files: toolpathJob(`${program(square())}M4 S800\n${square(60, 10, 20)}M5\n`),
    },
    {
      it: 'motion with the beam on after a closing %',
      files: toolpathJob(`%\n${program(square(), undefined, 'M5\n')}%\nM4 S800\n${square(60, 10, 20)}M5\n`),
    },
    { it: 'motion in a line that may be left out', files: toolpathJob(program(`${square()}/G1 X90 Y90\n`)) },
    { it: 'power in a line that may be left out', files: toolpathJob(program(`/S300\n${square()}`)) },
  ],
  'a toolpath that leaves the sheet': [
    {
      it: 'by its size',
      files: toolpathJob(program(square()), { sheet: '{ width: 30 mm, height: 30 mm }', zero: 'set-by-hand' }),
    },
    {
      it: 'from the corner',
      files: toolpathJob(program(square(60, 10)), { sheet: '{ width: 80 mm, height: 60 mm }', zero: 'sheet-corner' }),
    },
    {
      it: 'by G92',
      files: toolpathJob(program(`G92 X-50\n${square()}`), {
        sheet: '{ width: 80 mm, height: 60 mm }',
        zero: 'sheet-corner',
      }),
    },
    {
      it: 'by G10',
      files: toolpathJob(program(`G10 L2 P1 X50\nG54\n${square()}`), {
        sheet: '{ width: 80 mm, height: 60 mm }',
        zero: 'sheet-corner',
      }),
    },
    {
      it: 'by an offset that is not in the program',
      files: toolpathJob(program(`G55\n${square()}`), {
        sheet: '{ width: 80 mm, height: 60 mm }',
        zero: 'sheet-corner',
      }),
    },
  ],
  'a file that is passed over': [
    ...['label.tap', 'label.cnc', 'label.gc', 'label.gco', 'label.g', 'label.txt', 'label', 'LABEL.GCODE'].map(
      (name) => ({
        it: `a toolpath named ${name}, beside a sound job`,
        files: { ...SOUND, [`more/${name}`]: program(square()) },
      }),
    ),
    {
      it: 'a link to a toolpath',
      files: SOUND,
      prepare: (folder) => {
        mkdirSync(join(folder, 'more'));
        symlinkSync('../label.gcode', join(folder, 'more/again.gcode'));
      },
    },
    {
      it: 'a pipe with the name of a toolpath',
      files: SOUND,
      prepare: (folder) => execFileSync('mkfifo', [join(folder, 'pipe.gcode')]),
    },
    {
      it: 'a sidecar in capitals',
      files: { 'a.JOB.YAML': sidecar({ toolpath: 'a.gcode' }), 'a.gcode': program(square()) },
    },
    {
      it: 'a sidecar that ends in .yml',
      files: { 'a.job.yml': sidecar({ toolpath: 'a.gcode' }), 'a.gcode': program(square()) },
    },
    {
      it: 'compressed artwork that is asked for',
      files: { 'label.svgz': 'not unpacked' },
      paths: ['label.svgz'],
      options: BARE,
    },
    { it: 'a toolpath that no sidecar names', files: { ...SOUND, 'other.gcode': program(square()) } },
    { it: 'toolpaths and nothing that says what they are', files: { 'other.gcode': program(square()) } },
    {
      it: 'a toolpath that a stranger’s settings wave through',
      files: {
        ...SOUND,
        'other.gcode': program(square()),
        '.kerflint.yaml': 'kerflint: 1\nunchecked: { toolpath: note }\n',
      },
      only: 'untrusted',
    },
  ],
  'a list of changed files': [
    {
      it: 'that is what git says when it fails',
      files: { ...SOUND, 'changed.txt': 'fatal: bad revision HEAD~1\n' },
      options: { 'changed-files': 'changed.txt' },
    },
    {
      it: 'that names nothing that is there',
      files: { ...SOUND, 'changed.txt': 'M\telsewhere/a.gcode\nM\telsewhere/b.gcode\n' },
      options: { 'changed-files': 'changed.txt' },
    },
    {
      it: 'that cannot be decoded',
      files: SOUND,
      prepare: (folder) => writeFileSync(join(folder, 'changed.txt'), Uint8Array.of(0xff, 0x62, 0xc3, 0x28, 0x0a)),
      options: { 'changed-files': 'changed.txt' },
    },
    ...(
      [
        ['quoted by git', '"l\\303\\244bel.gcode"\n', 'läbel.gcode'],
        ['with ./', './label.gcode\n', 'label.gcode'],
        ['with backslashes', 'sub\\label.gcode\n', 'sub/label.gcode'],
        ['with status letters', 'M\tlabel.gcode\n', 'label.gcode'],
        ['with a byte-order mark', '\ufefflabel.gcode\n', 'label.gcode'],
        ['in another Unicode form', 'la\u0308bel.gcode\n', 'l\u00e4bel.gcode'],
      ] as const
    ).map(([how, list, name]) => ({
      it: `${how} still has the changed toolpath judged`,
      files: {
        [name]: program(square(), 'M4 S100 F6000'),
        [name.replace('.gcode', '.job.yaml')]: sidecar({ toolpath: JSON.stringify(name.replace('sub/', '')) }),
        'changed.txt': list,
      },
      options: { 'changed-files': 'changed.txt' },
    })),
  ],
};
