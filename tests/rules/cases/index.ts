import { artworkCases } from './artwork.ts';
import { cutCases } from './cut.ts';
import { focusCases } from './focus.ts';
import { inputCases } from './input.ts';
import { matchCases } from './match.ts';
import { materialCases } from './material.ts';
import { powerCases } from './power.ts';
import { speedCases } from './speed.ts';
import { toolpathCases } from './toolpath.ts';
import { toolpathProgramCases } from './toolpath-program.ts';
import { toolpathWorkCases } from './toolpath-work.ts';
import { waiverCases } from './waiver.ts';
import { wasteCases } from './waste.ts';

export const cases = [
  ...artworkCases,
  ...cutCases,
  ...focusCases,
  ...inputCases,
  ...matchCases,
  ...materialCases,
  ...powerCases,
  ...speedCases,
  ...toolpathCases,
  ...toolpathProgramCases,
  ...toolpathWorkCases,
  ...waiverCases,
  ...wasteCases,
];
