import type { DrawnCut } from '../../facts/drawing/drawing-model.ts';
import type { Finding } from '../../findings/finding.ts';
import { escapeHtml } from '../escape.ts';

/** A finding with its number in the report. */
export interface NumberedFinding {
  number: number;
  finding: Finding;
}

/** Names that a picture in a page gives its parts, so that they can be found and linked to. */
export interface MapIds {
  /** Id of the row that tells of a cut, without `#`. */
  cut(cut: DrawnCut): string;
  /** Id of the row that tells of a finding. */
  finding(fingerprint: string): string;
  prefix: string;
}

/** A part with a tooltip; in a page also a link to the row that says more. */
export function opening(attributes: string, target: string | undefined, label: string): string {
  const title = `<title>${escapeHtml(label)}</title>`;
  if (target === undefined) return `<g ${attributes}>${title}`;
  return `<a ${attributes} href="#${target}" aria-label="${escapeHtml(label)}">${title}`;
}

/** The end of what {@link opening} began. */
export function closing(ids: MapIds | null): string {
  return ids === null ? '</g>' : '</a>';
}
