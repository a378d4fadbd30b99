import { getInput } from '@actions/core';
import type { AgainstUse } from '../src/cli/check/against.ts';
import { againstUse, type CheckOptions, severity, uncheckedOf, wholeNumber } from '../src/cli/check/check-options.ts';
import { parseShard, type Shard } from '../src/cli/check/shard.ts';
import { UsageError } from '../src/cli/usage-error.ts';
import type { Severity } from '../src/findings/finding.ts';

/** The inputs of the action, checked. Empty texts are null. */
export interface Inputs {
  paths: string[];
  workingDirectory: string;
  failOn: Severity;
  maxWarnings: number | null;
  shop: string | null;
  untrusted: boolean | 'auto';
  shopInCheckout: boolean;
  bare: CheckOptions['bare'];
  baseline: string | null;
  against: AgainstUse | null;
  changedFiles: string | null;
  shard: Shard | null;
  unchecked: CheckOptions['unchecked'];
  annotations: boolean;
  summary: boolean;
  sarifFile: string | null;
  jsonFile: string | null;
}

/** @throws UsageError for a value that is none */
export function readInputs(): Inputs {
  const text = (name: string) => {
    const value = getInput(name);
    return value === '' ? null : value;
  };
  const bare: Inputs['bare'] = {};
  for (const name of ['machine', 'lens', 'material', 'thickness'] as const) {
    const value = text(name);
    if (value !== null) bare[name] = value;
  }
  const maxWarnings = text('max-warnings');
  const shard = text('shard');
  return {
    paths: lines(getInput('paths')),
    workingDirectory: text('working-directory') ?? '.',
    failOn: severity(text('fail-on') ?? 'error'),
    maxWarnings: maxWarnings === null ? null : wholeNumber('max-warnings', maxWarnings),
    shop: text('shop'),
    untrusted: text('untrusted') === 'auto' || text('untrusted') === null ? 'auto' : choice('untrusted', true),
    shopInCheckout: choice('shop-in-checkout', false),
    bare,
    baseline: text('baseline'),
    against: againstUse(text('against'), choice('fail-on-new', false)),
    changedFiles: text('changed-files'),
    shard: shard === null ? null : parseShard(shard),
    unchecked: uncheckedOf(lines(getInput('unchecked'))),
    annotations: choice('annotations', true),
    summary: choice('summary', true),
    sarifFile: text('sarif-file'),
    jsonFile: text('json-file'),
  };
}

function lines(text: string): string[] {
  return text
    .split(/\r?\n/)
    .map((line) => line.trim())
    .filter((line) => line !== '');
}

function choice(name: string, whenEmpty: boolean): boolean {
  const value = getInput(name).toLowerCase();
  if (value === '') return whenEmpty;
  if (value === 'true' || value === 'false') return value === 'true';
  throw new UsageError(
    `the input ${name} is "${value}".`,
    `Write true or false${name === 'untrusted' ? ', or auto' : ''}.`,
  );
}
