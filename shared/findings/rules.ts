/** The index of rules. A new rule is a file and a line here (a test compares this list with the folders). */

import eveningBeforeAlignment from "./evening/before-alignment.ts";
import eveningClash from "./evening/clash.ts";
import eveningGroundOutOfLight from "./evening/ground-out-of-light.ts";
import eveningLeavesLate from "./evening/leaves-late.ts";
import eveningLeftOut from "./evening/left-out.ts";
import eveningNoSecondTry from "./evening/no-second-try.ts";
import eveningNothingToFocusOn from "./evening/nothing-to-focus-on.ts";
import eveningSetUpShort from "./evening/set-up-short.ts";
import eveningStandsHigher from "./evening/stands-higher.ts";
import eveningWindowMissed from "./evening/window-missed.ts";
import type { Rule } from "./finding.ts";
import groupLaserShared from "./group/laser-shared.ts";
import groupMemberFindings from "./group/member-findings.ts";
import groupNoSuchKit from "./group/no-such-kit.ts";
import groupTwoLeaders from "./group/two-leaders.ts";
import ignoreNoReason from "./ignore/no-reason.ts";
import ignoreUnknownCode from "./ignore/unknown-code.ts";
import ignoreUnused from "./ignore/unused.ts";
import lensPixelsDisagree from "./lens/pixels-disagree.ts";
import lensPixelsMissing from "./lens/pixels-missing.ts";
import logConstantError from "./log/constant-error.ts";
import logEveningsDisagree from "./log/evenings-disagree.ts";
import logFarOff from "./log/far-off.ts";
import logIncomplete from "./log/incomplete.ts";
import logOneDrift from "./log/one-drift.ts";
import logStarBelowHorizon from "./log/star-below-horizon.ts";
import logStarHidden from "./log/star-hidden.ts";
import magneticDeclinationDiffers from "./magnetic/declination-differs.ts";
import magneticOutsideModel from "./magnetic/outside-model.ts";
import magneticWeakField from "./magnetic/weak-field.ts";
import methodAfterFrames from "./method/after-frames.ts";
import methodAimHidden from "./method/aim-hidden.ts";
import methodBetterAvailable from "./method/better-available.ts";
import methodBodyTooHigh from "./method/body-too-high.ts";
import methodClosedThen from "./method/closed-then.ts";
import methodFallBackBetter from "./method/fall-back-better.ts";
import methodGuideStarNeverNear from "./method/guide-star-never-near.ts";
import methodGuideStarNotThere from "./method/guide-star-not-there.ts";
import methodLandmarkTooNear from "./method/landmark-too-near.ts";
import methodLocalRules from "./method/local-rules.ts";
import methodLowLatitude from "./method/low-latitude.ts";
import methodNeedsKey from "./method/needs-key.ts";
import methodNeedsScales from "./method/needs-scales.ts";
import methodNoWindow from "./method/no-window.ts";
import methodOneSource from "./method/one-source.ts";
import methodPairTooClose from "./method/pair-too-close.ts";
import methodPoleHidden from "./method/pole-hidden.ts";
import methodStarBelowHorizon from "./method/star-below-horizon.ts";
import methodStarHidden from "./method/star-hidden.ts";
import methodStarInTwilight from "./method/star-in-twilight.ts";
import methodStarTooFaint from "./method/star-too-faint.ts";
import methodSunByShadow from "./method/sun-by-shadow.ts";
import methodTestFramesTooClose from "./method/test-frames-too-close.ts";
import methodUnknownStar from "./method/unknown-star.ts";
import methodUnusedScale from "./method/unused-scale.ts";
import nightAfterLowWater from "./night/after-low-water.ts";
import nightLeaveBeforeArrive from "./night/leave-before-arrive.ts";
import nightNoDarkness from "./night/no-darkness.ts";
import nightNoLowWater from "./night/no-low-water.ts";
import nightOutsideTables from "./night/outside-tables.ts";
import nightTimeSkipped from "./night/time-skipped.ts";
import nightTimeTwice from "./night/time-twice.ts";
import nightWalkInTide from "./night/walk-in-tide.ts";
import reuseCannotTake from "./reuse/cannot-take.ts";
import reuseStillMissing from "./reuse/still-missing.ts";
import settingsAlwaysTold from "./settings/always-told.ts";
import settingsElsewhere from "./settings/elsewhere.ts";
import settingsNoSuchFinding from "./settings/no-such-finding.ts";
import siteCoordinatesSwapped from "./site/coordinates-swapped.ts";
import siteHemisphere from "./site/hemisphere.ts";
import siteLandmarkHidden from "./site/landmark-hidden.ts";
import siteLandmarkWithoutPlace from "./site/landmark-without-place.ts";
import siteLandmarksNeedElevation from "./site/landmarks-need-elevation.ts";
import siteOtherZone from "./site/other-zone.ts";
import siteOutlineCrossesItself from "./site/outline-crosses-itself.ts";
import sitePlaceUnsaid from "./site/place-unsaid.ts";
import siteUnknownZone from "./site/unknown-zone.ts";
import siteWayOpenUnused from "./site/way-open-unused.ts";
import siteWindowOutside from "./site/window-outside.ts";
import structureConflictMarker from "./structure/conflict-marker.ts";
import structureEmptyCell from "./structure/empty-cell.ts";
import structureKeyOfOtherKind from "./structure/key-of-other-kind.ts";
import structureLength from "./structure/length.ts";
import structureMissingCell from "./structure/missing-cell.ts";
import structureMissingKey from "./structure/missing-key.ts";
import structureNameRepeated from "./structure/name-repeated.ts";
import structureNewerFormat from "./structure/newer-format.ts";
import structureNoValue from "./structure/no-value.ts";
import structureNotACell from "./structure/not-a-cell.ts";
import structureNotText from "./structure/not-text.ts";
import structureOutOfRange from "./structure/out-of-range.ts";
import structureRepeatedCell from "./structure/repeated-cell.ts";
import structureRepeatedKey from "./structure/repeated-key.ts";
import structureTooMuch from "./structure/too-much.ts";
import structureTwoKinds from "./structure/two-kinds.ts";
import structureUnknownKey from "./structure/unknown-key.ts";
import structureUnknownKind from "./structure/unknown-kind.ts";
import structureUnknownReference from "./structure/unknown-reference.ts";
import structureUnknownWord from "./structure/unknown-word.ts";
import structureUnquotedClock from "./structure/unquoted-clock.ts";
import structureUnreadable from "./structure/unreadable.ts";
import structureWrongType from "./structure/wrong-type.ts";
import structureYaml from "./structure/yaml.ts";
import targetArchMovesOut from "./target/arch-moves-out.ts";
import targetCometMoves from "./target/comet-moves.ts";
import targetExtentDiffers from "./target/extent-differs.ts";
import targetForegroundLow from "./target/foreground-low.ts";
import targetForegroundShort from "./target/foreground-short.ts";
import targetGroundBlurs from "./target/ground-blurs.ts";
import targetGroundClimbs from "./target/ground-climbs.ts";
import targetHalfRate from "./target/half-rate.ts";
import targetHidden from "./target/hidden.ts";
import targetInTwilight from "./target/in-twilight.ts";
import targetLeavesFrame from "./target/leaves-frame.ts";
import targetLowInTheAir from "./target/low-in-the-air.ts";
import targetNearRadiant from "./target/near-radiant.ts";
import targetNeverThere from "./target/never-there.ts";
import targetNeverUsable from "./target/never-usable.ts";
import targetNoGround from "./target/no-ground.ts";
import targetNoMoonlight from "./target/no-moonlight.ts";
import targetOldElements from "./target/old-elements.ts";
import targetOutsideOpening from "./target/outside-opening.ts";
import targetOutsideStay from "./target/outside-stay.ts";
import targetOverlap from "./target/overlap.ts";
import targetPanoramaGap from "./target/panorama-gap.ts";
import targetPanoramaHidden from "./target/panorama-hidden.ts";
import targetPanoramaOverlap from "./target/panorama-overlap.ts";
import targetPanoramaTooMany from "./target/panorama-too-many.ts";
import targetPartlyHidden from "./target/partly-hidden.ts";
import targetRadiantDown from "./target/radiant-down.ts";
import targetShowerNotActive from "./target/shower-not-active.ts";
import targetSmallInFrame from "./target/small-in-frame.ts";
import targetTrackedTooLong from "./target/tracked-too-long.ts";
import targetTrailGaps from "./target/trail-gaps.ts";
import targetTurnLimit from "./target/turn-limit.ts";
import targetUntrackedTooLong from "./target/untracked-too-long.ts";
import targetWithMoon from "./target/with-moon.ts";

export const RULES: readonly Rule[] = [
	structureConflictMarker,
	structureEmptyCell,
	structureKeyOfOtherKind,
	structureLength,
	structureMissingCell,
	structureMissingKey,
	structureNameRepeated,
	structureNewerFormat,
	structureNoValue,
	structureNotACell,
	structureNotText,
	structureOutOfRange,
	structureRepeatedCell,
	structureRepeatedKey,
	structureTooMuch,
	structureTwoKinds,
	structureUnknownKey,
	structureUnknownKind,
	structureUnknownReference,
	structureUnknownWord,
	structureUnquotedClock,
	structureUnreadable,
	structureWrongType,
	structureYaml,
	groupNoSuchKit,
	groupTwoLeaders,
	groupLaserShared,
	groupMemberFindings,
	reuseCannotTake,
	reuseStillMissing,
	siteCoordinatesSwapped,
	siteHemisphere,
	siteLandmarkHidden,
	siteLandmarkWithoutPlace,
	siteLandmarksNeedElevation,
	siteOtherZone,
	siteOutlineCrossesItself,
	sitePlaceUnsaid,
	siteWayOpenUnused,
	siteWindowOutside,
	siteUnknownZone,
	nightAfterLowWater,
	nightLeaveBeforeArrive,
	nightWalkInTide,
	nightNoDarkness,
	nightNoLowWater,
	nightOutsideTables,
	nightTimeSkipped,
	nightTimeTwice,
	magneticDeclinationDiffers,
	magneticOutsideModel,
	magneticWeakField,
	methodAfterFrames,
	methodAimHidden,
	methodBetterAvailable,
	methodBodyTooHigh,
	methodClosedThen,
	methodFallBackBetter,
	methodGuideStarNeverNear,
	methodGuideStarNotThere,
	methodLandmarkTooNear,
	methodLocalRules,
	methodLowLatitude,
	methodNeedsKey,
	methodNeedsScales,
	methodNoWindow,
	methodOneSource,
	methodPairTooClose,
	methodPoleHidden,
	methodStarBelowHorizon,
	methodStarHidden,
	methodStarInTwilight,
	methodStarTooFaint,
	methodSunByShadow,
	methodTestFramesTooClose,
	methodUnknownStar,
	methodUnusedScale,
	lensPixelsDisagree,
	lensPixelsMissing,
	targetCometMoves,
	targetArchMovesOut,
	targetForegroundLow,
	targetForegroundShort,
	targetExtentDiffers,
	targetGroundBlurs,
	targetGroundClimbs,
	targetHalfRate,
	targetHidden,
	targetInTwilight,
	targetLeavesFrame,
	targetLowInTheAir,
	targetNearRadiant,
	targetNeverThere,
	targetNeverUsable,
	targetNoGround,
	targetNoMoonlight,
	targetOldElements,
	targetOutsideOpening,
	targetOutsideStay,
	targetOverlap,
	targetPanoramaGap,
	targetPanoramaHidden,
	targetPanoramaOverlap,
	targetPanoramaTooMany,
	targetPartlyHidden,
	targetRadiantDown,
	targetShowerNotActive,
	targetSmallInFrame,
	targetTrackedTooLong,
	targetTrailGaps,
	targetTurnLimit,
	targetUntrackedTooLong,
	targetWithMoon,
	eveningBeforeAlignment,
	eveningClash,
	eveningGroundOutOfLight,
	eveningLeavesLate,
	eveningLeftOut,
	eveningNoSecondTry,
	eveningNothingToFocusOn,
	eveningSetUpShort,
	eveningStandsHigher,
	eveningWindowMissed,
	logConstantError,
	logEveningsDisagree,
	logFarOff,
	logIncomplete,
	logOneDrift,
	logStarBelowHorizon,
	logStarHidden,
	settingsElsewhere,
	settingsNoSuchFinding,
	settingsAlwaysTold,
	ignoreUnknownCode,
	ignoreNoReason,
	ignoreUnused,
];

/** The rule of a code. */
export const ruleOf = (code: string): Rule | undefined => RULES.find((rule) => rule.code === code);
