import { readFileSync } from 'node:fs';
import type { ReportScript } from '../../report/report-context.ts';
import { packagePath } from './package-files.ts';

/** The script that the build made for the HTML report. */
export function readReportScript(): ReportScript {
  return JSON.parse(readFileSync(packagePath('dist', 'report-script.json'), 'utf8')) as ReportScript;
}
