import type { HazardClass } from '../../../src/facts/types.ts';
import { facts, machine, material, plannedTask, sidecar, task } from '../build-facts.ts';
import { casesOf } from '../case.ts';

const groove = task({ aim: 'groove' }, plannedTask({ name: 'fold', aim: 'groove' }));
const surface = task({ aim: 'surface' }, plannedTask({ name: 'name', aim: 'surface' }));
const steel = material({
  name: 'Mild steel',
  sources: { co2: 'marks-only', diode: 'marks-only', fibre: 'cuts' },
  sourceReasons: { co2: 'reflects 0.97 at 10.6 µm' },
});
const clear = material({ name: 'Clear acrylic', sources: { diode: 'does-not-absorb' }, transmits: { diode: 0.9 } });
const coloured = material({ name: 'Cast acrylic', sourceConditions: { diode: 'opaque to blue light' } });
const diode = machine({ source: { kind: 'diode', wavelengthUm: 0.45 } });
const mirrored = material({ name: 'Mirrored acrylic', traits: { mirrored: true } });
const glued = material({ name: 'Construction plywood', traits: { hiddenGlue: true } });
const withSidecar = (change: Parameters<typeof sidecar>[0]) => ({ sidecar: sidecar(change) });

const choice = (id: string, hazard: HazardClass, differs: string | null = null) => ({
  id,
  name: id,
  hazard: { class: hazard, reason: 'smoke', source: 'invented for these tests' },
  differs,
});

export const materialCases = [
  ...casesOf('material/unknown', [
    ['accepts a material of the catalogue', facts(), []],
    [
      'asks for the data sheet when the material is declared unknown',
      facts({ material: null, materialUnknown: true, materialName: 'unknown' }),
      [{ messageId: 'declared', says: ['safety data sheet'], at: 'coaster.job.yaml:4' }],
    ],
    [
      'names the id that is not found',
      facts({
        material: null,
        materialName: 'birtch',
        materialMeant: { why: 'like', word: 'birch ply', choices: [choice('birch-plywood', 'usual')] },
      }),
      [{ messageId: 'notFound', says: ['"birtch"', 'Correct the name (perhaps birch-plywood), or'] }],
    ],
    [
      'shows the class of what it asks about',
      facts({
        material: null,
        materialName: 'mdff',
        materialMeant: {
          why: 'like',
          word: 'mdf',
          choices: [choice('mdf', 'extract'), choice('hardboard', 'extract')],
        },
      }),
      [{ messageId: 'notFound', says: ['(perhaps mdf (extract) or hardboard (extract))'] }],
    ],
    [
      'only describes the way out where nothing is near',
      facts({ material: null, materialName: 'xyzzy' }),
      [{ messageId: 'notFound', says: ['Correct the name, or describe'] }],
    ],
    [
      'lists the materials of a kind with what differs',
      facts({
        material: null,
        materialName: 'blue foam',
        materialMeant: {
          why: 'kind',
          word: 'foam',
          choices: [
            choice('eva-foam', 'extract', 'soft sheet for crafts'),
            choice('pvc', 'never'),
            choice('card', 'usual'),
          ],
        },
      }),
      [
        {
          messageId: 'kindOnly',
          says: [
            '"blue foam" does not say which foam',
            'eva-foam (soft sheet for crafts; extract), pvc (never cut), card.',
          ],
        },
      ],
    ],
    [
      'says which hazard a name is like',
      facts({
        material: null,
        materialName: 'pvc tarp',
        materialMeant: { why: 'hazard', word: 'pvc', choices: [choice('pvc', 'never')] },
      }),
      [
        {
          messageId: 'likeHazardous',
          says: ['is like "pvc": pvc must not be laser-cut', 'name it, perhaps pvc (never cut), or', 'smoke'],
        },
      ],
    ],
    [
      'says what to reconsider',
      facts({
        material: null,
        materialName: 'abs tray',
        materialMeant: { why: 'hazard', word: 'abs', choices: [choice('abs', 'reconsider')] },
      }),
      [{ messageId: 'likeHazardous', says: ['abs is a material to reconsider'] }],
    ],
    ['has nothing to judge when no material was named', facts({ material: null, materialName: null }), 'no material'],
  ]),
  ...casesOf('material/hazardous', [
    ['accepts what every plywood gives off', facts(), []],
    [
      'refuses PVC with reason and source',
      facts({
        material: material({
          id: 'pvc',
          name: 'PVC',
          hazard: { class: 'never', reason: 'hydrogen chloride', source: '[UIC]' },
        }),
      }),
      [{ messageId: 'never', says: ['PVC must not be laser-cut', 'hydrogen chloride', 'UIC'] }],
    ],
    [
      'warns of ABS',
      facts({ material: material({ hazard: { class: 'reconsider', reason: 'hydrogen cyanide' } }) }),
      [{ messageId: 'reconsider', severity: 'warning', says: ['hydrogen cyanide'] }],
    ],
    [
      'notes formaldehyde',
      facts({ material: material({ hazard: { class: 'extract', reason: 'formaldehyde' } }) }),
      [{ messageId: 'extract', severity: 'note', says: ['extraction'] }],
    ],
    ['has nothing to judge without a material', facts({ material: null }), 'material is not known'],
  ]),
  ...casesOf('material/not-cut-by-source', [
    ['accepts plywood under CO₂', facts(), []],
    [
      'refuses to part steel with CO₂',
      facts({ material: steel }),
      [{ messageId: 'through', says: ['CO₂', 'mild steel', '0.97', '"outline"'] }],
    ],
    [
      'warns of a groove in steel',
      facts({ material: steel, tasks: [groove] }),
      [{ messageId: 'groove', severity: 'warning', says: ['no depth'] }],
    ],
    ['accepts marking steel', facts({ material: steel, tasks: [surface] }), []],
    ['accepts steel under fibre', facts({ material: steel, machine: machine({ source: { kind: 'fibre' } }) }), []],
    ['has nothing to judge without a machine', facts({ machine: null }), 'machine is not known'],
  ]),
  ...casesOf('material/transparent-to-source', [
    ['accepts clear acrylic under CO₂', facts({ material: clear }), []],
    [
      'refuses clear acrylic under a diode, with the share that passes',
      facts({ material: clear, machine: diode }),
      [{ messageId: 'transparent', says: ['diode', '0.45 µm', '90 %', '"outline"'] }],
    ],
    [
      'warns where it should only be marked',
      facts({ material: clear, machine: diode, tasks: [surface] }),
      [{ messageId: 'transparent', severity: 'warning' }],
    ],
    [
      'notes that only an opaque sheet is cut by a diode',
      facts({ material: coloured, machine: diode }),
      [
        {
          messageId: 'onlyIf',
          severity: 'note',
          says: ['0.45 µm cuts cast acrylic only if it is opaque to blue light.'],
        },
      ],
    ],
    ['says nothing of it under CO₂', facts({ material: coloured }), []],
    ['has nothing to judge without a task', facts({ material: clear, machine: diode, tasks: [] }), 'no task'],
  ]),
  ...casesOf('material/mirror-unmasked', [
    ['accepts a bare sheet that is no mirror', facts({ input: withSidecar({ face: 'bare' }) }), []],
    [
      'accepts a masked mirror that looks down',
      facts({ material: mirrored, input: withSidecar({ face: 'masked', mirror: 'down' }) }),
      [],
    ],
    [
      'asks which way a masked mirror looks',
      facts({ material: mirrored, input: withSidecar({ face: 'masked', mirror: null }) }),
      [{ messageId: 'sideNotStated', severity: 'note', says: ['Lay the clear face up'] }],
    ],
    [
      'notes that the coating looks up',
      facts({ material: mirrored, input: withSidecar({ face: 'masked', mirror: 'up' }) }),
      [{ messageId: 'coatedUp', severity: 'note', says: ['looks up at the beam'] }],
    ],
    [
      'accepts a coating that looks up to be marked',
      facts({ material: mirrored, tasks: [surface], input: withSidecar({ face: 'masked', mirror: 'up' }) }),
      [],
    ],
    [
      'warns of a bare mirror',
      facts({ material: mirrored, input: withSidecar({ face: 'bare' }) }),
      [{ messageId: 'bare', says: ['mirrored acrylic', 'turn the coated side away'] }],
    ],
    [
      'asks when the face is not stated, and leaves out the side when it is turned already',
      facts({ material: mirrored, input: withSidecar({ face: null, mirror: 'down' }) }),
      [{ messageId: 'notStated', says: ['state `face: masked`.'] }],
    ],
    [
      'only notes it for a bare file, which cannot say',
      facts({ material: mirrored, fromOptions: true, input: { sidecar: null } }),
      [{ messageId: 'notStated', severity: 'note', at: 'coaster.job.yaml:1' }],
    ],
  ]),
  ...casesOf('material/thickness-implausible', [
    ['accepts 6 mm plywood', facts(), []],
    ['accepts a little beyond the sold range', facts({ thicknessMm: 28 }), []],
    [
      'warns of 30 mm plywood and sees the missing point',
      facts({ thicknessMm: 30 }),
      [{ messageId: 'unusual', says: ['30.0 mm', '0.8 to 24.0 mm', 'a point may be missing: 3.0 mm'] }],
    ],
    [
      'sees inches taken for millimetres',
      facts({ thicknessMm: 0.25 }),
      [{ messageId: 'unusual', says: ['as inches it would be 6.35 mm'] }],
    ],
    [
      'refuses what is no sheet',
      facts({ thicknessMm: 600, material: null }),
      [{ messageId: 'absurd', severity: 'error', says: ['600 mm', '0.02 to 150 mm'] }],
    ],
    ['obeys its slack', facts({ thicknessMm: 28 }), [{ messageId: 'unusual' }], { slack: 0 }],
    ['has nothing to judge without a thickness', facts({ thicknessMm: null }), 'no thickness'],
  ]),
  ...casesOf('material/hidden-glue', [
    ['accepts a grade without it', facts(), []],
    [
      'warns of construction plywood that must be parted',
      facts({ material: glued }),
      [{ messageId: 'glue', says: ['Construction plywood hides'] }],
    ],
    ['has nothing to judge where it is only marked', facts({ material: glued, tasks: [surface] }), 'go through'],
  ]),
  ...casesOf('material/thickness-unmeasured', [
    ['accepts a measured thickness', facts(), []],
    [
      'notes a nominal one with the doubt it brings',
      facts({ thicknessSpreadMm: 0.3, input: withSidecar({ thickness: { nominal: true, plusMinusMm: null } }) }),
      [{ messageId: 'nominal', says: ['6.0 mm is nominal', '± 0.49 mm'] }],
    ],
    ['has nothing to judge for a bare file', facts({ input: { sidecar: null } }), 'no sidecar'],
  ]),
];
