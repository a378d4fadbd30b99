import { readdirSync, readFileSync } from 'node:fs';
import { readMaterial } from '../../src/job/material/material.ts';
import type { Material } from '../../src/job/model.ts';
import { textSource } from '../../src/source/source.ts';

const FOLDER = new URL('../../data/materials/', import.meta.url);

/** One file of the catalogue: its text, and what the reader made of it. */
export interface CatalogueFile {
  file: string;
  text: string;
  material: Material | null;
  problems: string[];
}

export function readText(file: string, text: string): CatalogueFile {
  const loaded = readMaterial(textSource(file, text), 'catalogue');
  return { file, text, material: loaded.value, problems: loaded.problems.map((problem) => problem.args.text) };
}

/** Every file of the catalogue, in the order of their names. */
export function catalogueFiles(): CatalogueFile[] {
  const names = readdirSync(FOLDER).sort();
  return names.map((file) => readText(file, readFileSync(new URL(file, FOLDER), 'utf8')));
}

/** A material of the catalogue by its id. */
export function material(id: string): Material {
  const file = `${id}.material.yaml`;
  const { material: found, problems } = readText(file, readFileSync(new URL(file, FOLDER), 'utf8'));
  if (found === null) throw new Error(`${file}: ${problems.join('; ')}`);
  return found;
}
