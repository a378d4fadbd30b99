/** A word that several materials go by, and that therefore names none of them: which it is decides what the beam does and what comes off. */
export const KINDS = [
  'plywood',
  'wood',
  'acrylic',
  'plastic',
  'foam',
  'leather',
  'felt',
  'cloth',
  'rubber',
  'metal',
  'stone',
] as const;

export type Kind = (typeof KINDS)[number];

/** How people write each kind, in English, German, French and Spanish (memory); the word itself is one of them. */
export const KIND_WORDS: Readonly<Record<Kind, readonly string[]>> = {
  plywood: ['ply', 'ply wood', 'laser ply', 'Sperrholz', 'Multiplex', 'contreplaqué', 'contrachapado', 'triplay'],
  wood: ['timber', 'solid wood', 'hardwood', 'softwood', 'Holz', 'Massivholz', 'bois', 'bois massif', 'madera'],
  acrylic: ['acrylics', 'acrylic sheet', 'Acryl', 'Acrylplatte', 'acrylique', 'acrílico', 'plancha acrílica'],
  plastic: ['plastics', 'polymer', 'Kunststoff', 'Plastik', 'plastique', 'plástico'],
  foam: ['foam sheet', 'foam board', 'Schaumstoff', 'Schaum', 'Hartschaum', 'mousse', 'panneau mousse', 'espuma'],
  leather: ['real leather', 'genuine leather', 'Leder', 'Echtleder', 'cuir', 'cuero', 'piel'],
  felt: ['felt sheet', 'Filz', 'feutre', 'feutrine', 'fieltro'],
  cloth: ['fabric', 'textile', 'Stoff', 'Gewebe', 'Tuch', 'tissu', 'toile', 'tela', 'tejido'],
  rubber: ['rubber sheet', 'Gummi', 'Kautschuk', 'caoutchouc', 'gomme', 'caucho', 'goma'],
  metal: ['sheet metal', 'Metall', 'Blech', 'tôle', 'chapa'],
  stone: ['natural stone', 'Stein', 'Naturstein', 'pierre', 'piedra'],
};

/** Words in a name that tell of its hazard, though they are no material's name, each with the material that it stands for (memory). */
export const TELLING_ROOTS: readonly { root: string; material: string }[] = [
  { root: 'chlor', material: 'pvc' },
  { root: 'cloro', material: 'pvc' },
  { root: 'cloru', material: 'pvc' },
  { root: 'fluoro', material: 'ptfe' },
  { root: 'fluorin', material: 'ptfe' },
  { root: 'fluorid', material: 'ptfe' },
  { root: 'fluorure', material: 'ptfe' },
  { root: 'fluoruro', material: 'ptfe' },
];
