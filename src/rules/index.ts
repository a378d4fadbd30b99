import type { Reader } from '../model/reader.ts';
import { nearestWord } from '../units/nearest-word.ts';
import artworkActiveContent from './artwork/active-content.ts';
import artworkDuplicateLine from './artwork/duplicate-line.ts';
import artworkExternalReference from './artwork/external-reference.ts';
import artworkFeatureBelowKerf from './artwork/feature-below-kerf.ts';
import artworkHiddenGeometry from './artwork/hidden-geometry.ts';
import artworkLiveText from './artwork/live-text.ts';
import artworkLowResolutionImage from './artwork/low-resolution-image.ts';
import artworkNearlyClosed from './artwork/nearly-closed.ts';
import artworkNoPhysicalSize from './artwork/no-physical-size.ts';
import artworkNotDrawable from './artwork/not-drawable.ts';
import artworkNothingToCut from './artwork/nothing-to-cut.ts';
import artworkOffSheet from './artwork/off-sheet.ts';
import artworkOpenOutline from './artwork/open-outline.ts';
import artworkOverlappingParts from './artwork/overlapping-parts.ts';
import artworkScaleSuspect from './artwork/scale-suspect.ts';
import artworkSelfCrossing from './artwork/self-crossing.ts';
import artworkSlotDoesNotFit from './artwork/slot-does-not-fit.ts';
import artworkStray from './artwork/stray.ts';
import artworkUnassignedStroke from './artwork/unassigned-stroke.ts';
import artworkWebTooThin from './artwork/web-too-thin.ts';
import cutBelowCleanSpeed from './cut/below-clean-speed.ts';
import cutMarginal from './cut/marginal.ts';
import cutOutOfReach from './cut/out-of-reach.ts';
import cutOverburn from './cut/overburn.ts';
import cutProposed from './cut/proposed.ts';
import cutShortOfThrough from './cut/short-of-through.ts';
import cutTooManyPasses from './cut/too-many-passes.ts';
import cutUneven from './cut/uneven.ts';
import focusLensAssumed from './focus/lens-assumed.ts';
import focusLensTooShort from './focus/lens-too-short.ts';
import focusLensUnknown from './focus/lens-unknown.ts';
import focusOutsideSheet from './focus/outside-sheet.ts';
import focusSheetNotFlat from './focus/sheet-not-flat.ts';
import focusUnchangedOverPasses from './focus/unchanged-over-passes.ts';
import inputAssumed from './input/assumed.ts';
import inputNotFilledIn from './input/not-filled-in.ts';
import inputSyntax from './input/syntax.ts';
import inputUnreadable from './input/unreadable.ts';
import matchExtraInToolpath from './match/extra-in-toolpath.ts';
import matchMirrored from './match/mirrored.ts';
import matchMissingInToolpath from './match/missing-in-toolpath.ts';
import matchNotFound from './match/not-found.ts';
import matchScaleDiffers from './match/scale-differs.ts';
import matchSettingsDiffer from './match/settings-differ.ts';
import matchUnclaimedStrokes from './match/unclaimed-strokes.ts';
import materialHazardous from './material/hazardous.ts';
import materialHiddenGlue from './material/hidden-glue.ts';
import materialMirrorUnmasked from './material/mirror-unmasked.ts';
import materialNotCutBySource from './material/not-cut-by-source.ts';
import materialThicknessImplausible from './material/thickness-implausible.ts';
import materialThicknessUnmeasured from './material/thickness-unmeasured.ts';
import materialTransparentToSource from './material/transparent-to-source.ts';
import materialUnknown from './material/unknown.ts';
import powerAboveRecommended from './power/above-recommended.ts';
import powerAboveSourceLimit from './power/above-source-limit.ts';
import powerBelowFiringFloor from './power/below-firing-floor.ts';
import powerMeasurementStale from './power/measurement-stale.ts';
import powerRatedOnly from './power/rated-only.ts';
import powerScaleMismatch from './power/scale-mismatch.ts';
import powerUnevenBed from './power/uneven-bed.ts';
import powerZeroOnCut from './power/zero-on-cut.ts';
import { retired } from './retired.ts';
import type { Rule } from './rule.ts';
import speedAboveMachine from './speed/above-machine.ts';
import speedMissingFeed from './speed/missing-feed.ts';
import speedNeverReached from './speed/never-reached.ts';
import speedUnitsSuspect from './speed/units-suspect.ts';
import toolpathAfterEnd from './toolpath/after-end.ts';
import toolpathAirOff from './toolpath/air-off.ts';
import toolpathArcMismatch from './toolpath/arc-mismatch.ts';
import toolpathBeamLeftOn from './toolpath/beam-left-on.ts';
import toolpathBeamOnRapid from './toolpath/beam-on-rapid.ts';
import toolpathDwellBurn from './toolpath/dwell-burn.ts';
import toolpathHeatCrowding from './toolpath/heat-crowding.ts';
import toolpathInnerAfterOuter from './toolpath/inner-after-outer.ts';
import toolpathModalConflict from './toolpath/modal-conflict.ts';
import toolpathNeverFires from './toolpath/never-fires.ts';
import toolpathNoEnd from './toolpath/no-end.ts';
import toolpathNotAnalysed from './toolpath/not-analysed.ts';
import toolpathOffBed from './toolpath/off-bed.ts';
import toolpathOffSheet from './toolpath/off-sheet.ts';
import toolpathOpenCut from './toolpath/open-cut.ts';
import toolpathRasterPeakEnergy from './toolpath/raster-peak-energy.ts';
import toolpathRasterPitch from './toolpath/raster-pitch.ts';
import toolpathTipUp from './toolpath/tip-up.ts';
import toolpathUnitsSuspect from './toolpath/units-suspect.ts';
import toolpathWrongKind from './toolpath/wrong-kind.ts';
import toolpathZCollision from './toolpath/z-collision.ts';
import waiverExpired from './waiver/expired.ts';
import waiverNoReason from './waiver/no-reason.ts';
import waiverUnknownRule from './waiver/unknown-rule.ts';
import waiverUnused from './waiver/unused.ts';
import wasteOverBudget from './waste/over-budget.ts';

/** All rules, sorted by id. What is not in this list is not judged. One whose messages come from the readers is made for them. */
const RULES: readonly (Rule | ((readers: readonly Reader[]) => Rule))[] = [
  artworkActiveContent,
  artworkDuplicateLine,
  artworkExternalReference,
  artworkFeatureBelowKerf,
  artworkHiddenGeometry,
  artworkLiveText,
  artworkLowResolutionImage,
  artworkNearlyClosed,
  artworkNoPhysicalSize,
  artworkNotDrawable,
  artworkNothingToCut,
  artworkOffSheet,
  artworkOpenOutline,
  artworkOverlappingParts,
  artworkScaleSuspect,
  artworkSelfCrossing,
  artworkSlotDoesNotFit,
  artworkStray,
  artworkUnassignedStroke,
  artworkWebTooThin,
  cutBelowCleanSpeed,
  cutMarginal,
  cutOutOfReach,
  cutOverburn,
  cutProposed,
  cutShortOfThrough,
  cutTooManyPasses,
  cutUneven,
  focusLensAssumed,
  focusLensTooShort,
  focusLensUnknown,
  focusOutsideSheet,
  focusSheetNotFlat,
  focusUnchangedOverPasses,
  inputAssumed,
  inputNotFilledIn,
  inputSyntax,
  inputUnreadable,
  matchExtraInToolpath,
  matchMirrored,
  matchMissingInToolpath,
  matchNotFound,
  matchScaleDiffers,
  matchSettingsDiffer,
  matchUnclaimedStrokes,
  materialHazardous,
  materialHiddenGlue,
  materialMirrorUnmasked,
  materialNotCutBySource,
  materialThicknessImplausible,
  materialThicknessUnmeasured,
  materialTransparentToSource,
  materialUnknown,
  powerAboveRecommended,
  powerAboveSourceLimit,
  powerBelowFiringFloor,
  powerMeasurementStale,
  powerRatedOnly,
  powerScaleMismatch,
  powerUnevenBed,
  powerZeroOnCut,
  speedAboveMachine,
  speedMissingFeed,
  speedNeverReached,
  speedUnitsSuspect,
  toolpathAfterEnd,
  toolpathAirOff,
  toolpathArcMismatch,
  toolpathBeamLeftOn,
  toolpathBeamOnRapid,
  toolpathDwellBurn,
  toolpathHeatCrowding,
  toolpathInnerAfterOuter,
  toolpathModalConflict,
  toolpathNeverFires,
  toolpathNoEnd,
  toolpathNotAnalysed,
  toolpathOffBed,
  toolpathOffSheet,
  toolpathOpenCut,
  toolpathRasterPeakEnergy,
  toolpathRasterPitch,
  toolpathTipUp,
  toolpathUnitsSuspect,
  toolpathWrongKind,
  toolpathZCollision,
  waiverExpired,
  waiverNoReason,
  waiverUnknownRule,
  waiverUnused,
  wasteOverBudget,
];

/** All rules, sorted by id. `readers` bring messages for what they cannot read, and no rule: ids and options are always the same. */
export function rulesFor(readers: readonly Reader[]): readonly Rule[] {
  return RULES.map((rule) => (typeof rule === 'function' ? rule(readers) : rule));
}

/** What became of an id that somebody wrote: the rule; the successor of a retired one; or the nearest ids. */
export type RuleLookup =
  | { kind: 'rule'; rule: Rule }
  | { kind: 'retired'; id: string; successor: Rule | null }
  | { kind: 'unknown'; id: string; suggestions: string[] };

/** Looks up a rule by id among all. Unknown ids come with up to three that were probably meant. */
export function findRule(rules: readonly Rule[], id: string): RuleLookup {
  const wanted = id.trim().toLowerCase();
  const byId = (one: string) => rules.find((rule) => rule.id === one);
  const rule = byId(wanted);
  if (rule !== undefined) return { kind: 'rule', rule };
  if (Object.hasOwn(retired, wanted)) {
    return { kind: 'retired', id: wanted, successor: byId(retired[wanted] ?? '') ?? null };
  }
  const ids = rules.map((one) => one.id);
  return { kind: 'unknown', id, suggestions: nearestIds(ids, wanted) };
}

/** The id most alike, the one whose last part is most alike, and ids that hold the word given. */
function nearestIds(ids: readonly string[], wanted: string): string[] {
  const dashed = wanted.slice(0, 64).replaceAll(' ', '-');
  const whole = nearestWord(dashed, ids);
  const part = nearestWord(dashed, ids.map(lastPart));
  const holding = dashed.length > 3 ? ids.filter((id) => id.includes(dashed)) : [];
  const byPart = part === undefined ? [] : ids.filter((id) => lastPart(id) === part);
  const near = [whole, ...byPart, ...holding].filter((id) => id !== undefined);
  return [...new Set(near)].slice(0, 3);
}

function lastPart(id: string): string {
  return id.slice(id.indexOf('/') + 1);
}
