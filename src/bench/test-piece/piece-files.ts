import type { OnBench } from '../../facts/bench/set-up.ts';
import { CAUTION, type CautionedMaterial, materialCaution } from '../../findings/caution.ts';
import { writtenMm, writtenPercent, writtenSpeed, writtenThickness } from '../../units/written.ts';
import { commentedMap, editorLine, oneLine, remarked, type YamlLine, yamlText } from '../commented-yaml.ts';
import type { Piece, PieceGroup } from './piece.ts';

/** What the files of every test piece tell. */
export interface PieceRequest extends OnBench {
  /** Name of the files, without their endings. */
  name: string;
  /** The day on which it is laid out, as 2026-11-25: scored on it, and taken for the day it is cut unless the person says otherwise. */
  today: string;
  /** Where the JSON Schemas are, seen from the files, for editors; null leaves it out. */
  schemas: string | null;
}

/** The files of a test piece, by name, and what to tell the person. */
export interface PieceFiles {
  files: { name: string; text: string }[];
  /** What to do with them, a line each. */
  steps: string[];
}

/**
 * The sidecar of a test piece. Every stroke is declared as a groove, because nobody knows yet whether it parts.
 * @param about what the file is, in one line.
 * @param at where on the bed the piece's own corner lies.
 */
export function pieceSidecar(
  request: PieceRequest,
  piece: Piece,
  at: { xMm: number; yMm: number },
  about: string,
): string {
  const { name } = request;
  const corner = at.xMm === 0 && at.yMm === 0 ? {} : { at: oneLine({ x: writtenMm(at.xMm), y: writtenMm(at.yMm) }) };
  return yamlText([
    ...editorLine(request.schemas, 'job'),
    about,
    ...pieceCautions(request.material),
    ...setUpLines(request),
    ['sheet', oneLine({ width: writtenMm(piece.widthMm), height: writtenMm(piece.heightMm), ...corner })],
    ['zero', 'sheet-corner'],
    ['toolpath', `${name}.gcode`],
    ['artwork', `${name}.svg`],
    ['tasks', piece.groups.map(taskOf)],
  ]);
}

function taskOf(group: PieceGroup): unknown {
  return commentedMap([
    ['name', group.name],
    ['aim', 'groove'],
    ['strokes', oneLine({ layer: group.id })],
    ['program', oneLine({ comment: group.name })],
    ['power', writtenPercent(group.setting)],
    ['speed', writtenSpeed(group.speedMmPerS)],
    ...passLines(group),
  ]);
}

/** What everything that is written for a machine says of the material, and the usual cautions: a text each. */
export function pieceCautions(material: CautionedMaterial): string[] {
  return [materialCaution(material), CAUTION];
}

/** The day of the test in a results sheet. */
export function dateLine({ today }: PieceRequest): YamlLine {
  return ['date', remarked(today, 'the day it was laid out: put in the day it was cut, if that is another')];
}

/** Passes and focus where they are other than one pass on the face. */
export function passLines(recipe: { passes: number; focusMm: number; focusStepMm: number }): [string, unknown][] {
  const lines: [string, unknown][] = [];
  if (recipe.passes > 1) lines.push(['passes', recipe.passes]);
  if (recipe.focusMm !== 0) lines.push(['focus', writtenMm(recipe.focusMm)]);
  if (recipe.focusStepMm !== 0) lines.push(['focus-step', writtenMm(recipe.focusStepMm)]);
  return lines;
}

/** Machine, lens, material and thickness, as every file of a test piece begins; the thickness may have a remark behind it. */
export function setUpLines({ machine, lens, material, thickness }: OnBench, remark?: string): YamlLine[] {
  const written = writtenThickness(thickness);
  return [
    ['kerflint', 1],
    ['machine', machine.id],
    ['lens', lens.id],
    ['material', material.id],
    ['thickness', remark === undefined ? written : remarked(written, remark)],
  ];
}
