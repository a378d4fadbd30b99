import type { Toolpath } from '../../model/toolpath.ts';
import { flatLengthMm } from '../strokes/stroke-geometry.ts';
import { lineLocation } from '../tasks/tasks.ts';
import type { CrowdedPlace } from './order-fact.ts';

/** Side of the squares that heat is summed over, mm: about what a nozzle's air jet and a bar of the bed share. */
const CELL_MM = 10;
/** Squares of a row; coordinates beyond a kilometre are not read. */
const ROW = 2 ** 20;
/** Fewer strokes than this in a square are an outline and its neighbours, not a crowd. */
const FEWEST_CUTS = 8;

interface Cell {
  column: number;
  row: number;
  cuts: number;
  lengthMm: number;
  energyJ: number;
  fromS: number;
  toS: number;
  first: number;
}

/**
 * Squares of the sheet in which many through cuts follow each other: length, energy and time between the first and the last.
 * Strokes count where their middle lies; long ones are shared out along their way.
 */
export function crowdedPlaces(toolpath: Toolpath, chosen: Uint32Array, fullW: number, file: string): CrowdedPlace[] {
  const { strokes } = toolpath;
  const cells = new Map<number, Cell>();
  // A stroke mostly lies where the one before it does.
  let cell: Cell | undefined;
  let clockS = 0;
  // By number: an iterator would make an object for each of millions.
  for (let k = 0; k < chosen.length; k++) {
    const i = chosen[k]!;
    const lengthMm = flatLengthMm(strokes, i);
    const speed = strokes.reachedMmPerS[i]! > 0 ? strokes.reachedMmPerS[i]! : strokes.speedMmPerS[i]!;
    const seconds = speed > 0 ? lengthMm / speed : 0;
    const parts = strokes.sweepRad[i] === 0 ? Math.min(1000, Math.max(1, Math.ceil(lengthMm / CELL_MM))) : 1;
    for (let p = 0; p < parts; p++) {
      const share = (p + 0.5) / parts;
      const x = strokes.startX[i]! + (strokes.endX[i]! - strokes.startX[i]!) * share;
      const y = strokes.startY[i]! + (strokes.endY[i]! - strokes.startY[i]!) * share;
      if (!Number.isFinite(x + y)) continue;
      const column = Math.floor(x / CELL_MM);
      const row = Math.floor(y / CELL_MM);
      if (cell?.column !== column || cell.row !== row) {
        const key = row * ROW + column;
        cell = cells.get(key);
        if (!cell) {
          cell = { column, row, cuts: 0, lengthMm: 0, energyJ: 0, fromS: clockS, toS: clockS, first: i };
          cells.set(key, cell);
        }
      }
      cell.cuts++;
      cell.lengthMm += lengthMm / parts;
      cell.energyJ += (strokes.setting[i]! * fullW * seconds) / parts;
      cell.toS = clockS + seconds;
    }
    clockS += seconds;
  }
  return [...cells.values()]
    .filter((cell) => cell.cuts >= FEWEST_CUTS)
    .sort((a, b) => b.energyJ - a.energyJ || a.first - b.first)
    .map((cell) => ({
      location: lineLocation(file, strokes.line[cell.first]!),
      x: (cell.column + 0.5) * CELL_MM,
      y: (cell.row + 0.5) * CELL_MM,
      cuts: cell.cuts,
      lengthMm: cell.lengthMm,
      areaMm2: CELL_MM * CELL_MM,
      withinS: cell.toS - cell.fromS,
      jPerMm2: cell.energyJ / (CELL_MM * CELL_MM),
    }));
}
