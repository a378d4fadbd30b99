import { wakeReport } from './wake-report.ts';

wakeReport(document);
