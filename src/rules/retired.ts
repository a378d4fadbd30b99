/** Ids that are no longer judged, each with the rule that took over; null when nothing did. An id is never used again. */
export const retired: Readonly<Record<string, string | null>> = {};
