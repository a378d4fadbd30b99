/**
 * The types and names that rules and reports need from the rooms to the left of the facts, handed on from one place: a rule imports
 * from `src/facts` and `src/findings` only.
 */

export type { Toolpath, ToolpathProblemCode } from '../gcode/toolpath.ts';
export { SOURCE_NAMES } from '../job/machine/source-names.ts';
export type { Aim, HazardClass, Lens, Machine, Material, Sidecar, SourceKind, Task } from '../job/model.ts';
export type { Location, Place, Problem } from '../source/place.ts';
export type { Artwork, ArtworkProblemCode, DrawnElement, Outline } from '../svg/artwork.ts';
