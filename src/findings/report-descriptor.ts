import type { Location, Place } from '../source/place.ts';
import type { Severity } from './finding.ts';

/** What a rule reports: no text, only the message's id and its arguments. */
export interface ReportDescriptor {
  messageId: string;
  /** Values for the message's template. Numbers are already rounded by the rule to what is said. */
  args: Record<string, string | number>;
  location: Location;
  /** Overrides the rule's severity (only downwards or as the rule documents). */
  severity?: Severity;
  related?: { file: string; place: Place; messageId: string; args: Record<string, string | number> }[];
  hints?: string[];
  data?: Record<string, unknown>;
  /** What identifies the finding besides rule, message and file when lines shift: a task name, an element id. */
  subject?: string;
}
