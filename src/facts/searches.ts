import type { JobFacts } from './facts.ts';

/** What is to be known of a search that may end before it has looked at everything. */
interface SearchEntry {
  /** Members of the facts that rest on it, such as `geometry.webs`, with what is in them. */
  readonly feeds: readonly string[];
  /** Why it ended early; null when it looked at everything. */
  readonly endedEarly: (facts: JobFacts) => string | null;
}

/**
 * Every search whose work or memory is bounded, so that it may end before it has looked at everything. A rule names the
 * searches that its answer rests on (`Rule.searches`): where one ended early, that is told beside what the rule found.
 */
export const SEARCHES = {
  /** Style sheets and clip paths of the artwork, worked out for each element. */
  'drawn-lines': {
    feeds: [
      'artwork.outlines',
      'artwork.elements',
      'artwork.leftOut',
      'artwork.lengthMm',
      'artwork.boundsMm',
      'geometry',
      'match.placement',
      'match.missing',
      'match.extra',
      'tasks.unpoweredOutlines',
      'unassignedOutlines',
      'proposals',
    ],
    endedEarly: ({ artwork }) => artwork?.endedEarly ?? null,
  },
  /** Which task strokes and outlines belong to. */
  tasks: {
    feeds: [
      'tasks.outlines',
      'tasks.strokes',
      'tasks.areas',
      'tasks.lengthMm',
      'tasks.timeS',
      'areas.task',
      'order',
      'cuts',
      'speeds',
      'unclaimed',
      'proposals',
      'longerLens',
      'match.settings',
      'match.unmatchedTasks',
      'unassignedOutlines',
    ],
    endedEarly: ({ tasksEndedEarly }) => tasksEndedEarly,
  },
  /** Passes: strokes that run along the same line again. */
  passes: {
    feeds: ['cuts', 'speeds', 'unclaimed', 'longerLens', 'match.settings', 'waste.expected'],
    endedEarly: ({ cutsEndedEarly }) => cutsEndedEarly,
  },
  /** Where the artwork lies on the toolpath. */
  placement: {
    feeds: [
      'match.placement',
      'match.scaleCause',
      'match.missing',
      'match.extra',
      'tasks.unpoweredOutlines',
      'geometry.scaleSuspect',
    ],
    endedEarly: ({ match }) => match?.placementEndedEarly ?? null,
  },
  /** What of the artwork the toolpath lacks. */
  'missing-lines': {
    feeds: ['match.missing', 'match.coveredArtworkMm', 'tasks.unpoweredOutlines'],
    endedEarly: ({ match }) => match?.missing.endedEarly ?? null,
  },
  /** What of the toolpath the artwork lacks. */
  'extra-lines': {
    feeds: ['match.extra', 'match.coveredToolpathMm'],
    endedEarly: ({ match }) => match?.extra.endedEarly ?? null,
  },
  duplicates: {
    feeds: ['geometry.duplicates'],
    endedEarly: ({ geometry }) => geometry?.duplicates.endedEarly ?? null,
  },
  crossings: {
    feeds: ['geometry.selfCrossing', 'geometry.overlappingParts'],
    endedEarly: ({ geometry }) => geometry?.selfCrossing.endedEarly ?? geometry?.overlappingParts.endedEarly ?? null,
  },
  webs: {
    feeds: ['geometry.webs'],
    endedEarly: ({ geometry }) => geometry?.webs.endedEarly ?? null,
  },
  dwells: {
    feeds: ['toolpath.dwells'],
    endedEarly: ({ toolpath }) => toolpath?.dwells.endedEarly ?? null,
  },
} as const satisfies Record<string, SearchEntry>;

/** A search that may end early, by name. */
export type Search = keyof typeof SEARCHES;

/** Why searches ended early, each reason once, in the order of the searches; empty when all looked at everything. */
export function reasonsEndedEarly(facts: JobFacts, searches: readonly Search[]): string[] {
  return [...new Set(searches.flatMap((search) => SEARCHES[search].endedEarly(facts) ?? []))];
}
