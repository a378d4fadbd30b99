/**
 * The types and names that rules and reports need from the rooms to the left of the facts, handed on from one place: a rule imports
 * from `src/facts` and `src/findings` only.
 */

export { SOURCE_NAMES } from '../job/machine/source-names.ts';
export { choicesText, idsWithHazard, verdictText } from '../job/material/names/hint-text.ts';
export type { Meant as MaterialMeant } from '../job/material/names/meant.ts';
export type { Aim, HazardClass, Lens, Machine, Material, Sidecar, SourceKind, Task } from '../job/model.ts';
export type { ReplyLanguage, ReplySettings, ReplyTemplate } from '../job/settings/reply-settings.ts';
export type { Artwork, DrawnElement, Outline } from '../model/artwork.ts';
export type { BeamWord, Toolpath } from '../model/toolpath.ts';
export { type Location, type Place, type Problem, START_OF_FILE } from '../source/place.ts';
