import { activateReport } from './activate-report.ts';

activateReport(document);
