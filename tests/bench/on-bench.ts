import { readFileSync } from 'node:fs';
import { type CouponRequest, makeCoupon } from '../../src/bench/test-piece/make-coupon.ts';
import type { PieceFiles } from '../../src/bench/test-piece/piece-files.ts';
import type { OnBench } from '../../src/facts/bench/set-up.ts';
import { readMachine } from '../../src/job/machine/machine.ts';
import { type CouponResults, readCouponResults } from '../../src/job/material/coupon-results.ts';
import type { Machine, Material } from '../../src/job/model.ts';
import { textSource } from '../../src/source/source.ts';
import { type Files, libraryOf, shed } from '../memory-shop.ts';

const library = libraryOf(shed());

export const SHED: Machine = library.machine('shed-60w').value!;

/** The demo's machine with some lines of its profile changed. */
export function shedWith(...changes: [from: string, to: string][]): Machine {
  let text = shedText();
  for (const [from, to] of changes) {
    if (!text.includes(from)) throw new Error(`the profile has no "${from}"`);
    text = text.replace(from, to);
  }
  const { value, problems } = readMachine(textSource('shed-60w.machine.yaml', text), 'shop');
  if (value === null) throw new Error(problems[0]?.args.text);
  return value;
}

export function shedText(): string {
  return String(shed()['machines/shed-60w.machine.yaml']);
}

export function material(id: string): Material {
  const { value } = library.material(id);
  if (value === null) throw new Error(`no material ${id}`);
  return value;
}

export function materialText(id: string): string {
  return readFileSync(new URL(`../../data/materials/${id}.material.yaml`, import.meta.url), 'utf8');
}

export function bench(id: string, mm: number, machine = SHED): OnBench {
  return {
    machine,
    lens: machine.lenses[0]!,
    material: material(id),
    thickness: { mm, plusMinusMm: 0.1, nominal: false },
  };
}

export function couponOf(id: string, mm: number, more: Partial<CouponRequest> = {}) {
  return makeCoupon({
    ...bench(id, mm, more.machine ?? SHED),
    name: 'test',
    today: '2026-11-25',
    tongues: 12,
    passes: null,
    focusMm: 0,
    focusStepMm: 0,
    corner: 'near',
    schemas: null,
    ...more,
  });
}

/** The files of a test as a checkout of the demo's shop. */
export function checkout(made: PieceFiles, machineText = shedText()): Files {
  return {
    'machines/shed-60w.machine.yaml': machineText,
    ...Object.fromEntries(made.files.map(({ name, text }) => [name, text])),
  };
}

export function fileOf(made: PieceFiles, ending: string): string {
  return made.files.find(({ name }) => name.endsWith(ending))!.text;
}

/** A results sheet filled in by what was seen of each tongue. */
export function filled(text: string, seen: (tongue: number) => string): string {
  return text.replace(/tongue: (\d+),(.*)through: \}/g, (_, tongue, rest) => {
    const words = seen(Number(tongue));
    return `tongue: ${tongue},${rest}${words} }`;
  });
}

export function resultsOf(text: string): CouponResults {
  const { value, problems } = readCouponResults(textSource('test.results.yaml', text));
  if (value === null) throw new Error(problems.map((problem) => problem.args.text).join('\n'));
  return value;
}
