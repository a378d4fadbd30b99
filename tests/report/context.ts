import type { ReportContext, RuleMetadata } from '../../src/report/report-context.ts';

export const CARD: RuleMetadata = {
  id: 'cut/short-of-through',
  summary: 'A cut will not part the sheet.',
  severity: 'error',
  since: '0.1.0',
  why: 'The part stays in the sheet.\nBoth are spoilt.\n\nA second run rarely meets the first.',
  remedy: 'Slow down.',
  sources: ['docs/model.md'],
};

/** A calm context for reports, changed as a test needs it. */
export function context(change: Partial<ReportContext> = {}): ReportContext {
  return {
    rules: [CARD],
    width: 100,
    colour: false,
    quiet: false,
    failLevel: { failOn: 'error', maxWarnings: null },
    rootInRepository: '',
    docsUrl: null,
    ...change,
  };
}
