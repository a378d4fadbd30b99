import type { Location, Place } from '../source/place.ts';
import { type Finding, type Related, SEVERITIES, type Severity } from './finding.ts';
import { Fingerprints, normalisedLine } from './fingerprint.ts';
import type { LineLookup } from './lines.ts';
import { MessageError, renderMessage } from './message.ts';
import type { ReportDescriptor } from './report-descriptor.ts';

/** What a reporter needs to know of a rule. */
export interface ReportingRule {
  readonly id: string;
  readonly severity: Severity;
  readonly messages: Readonly<Record<string, string>>;
  readonly forCustomers?: Readonly<Record<string, readonly string[]>>;
}

/** A rule reported something that is no valid finding. The message says what is wrong with it, for the rule's `notChecked` entry. */
export class DescriptorError extends Error {
  override readonly name = 'DescriptorFault';
}

/** Turns what rules report into findings. Every finding is made here. */
export interface Reporter {
  /**
   * Checks a descriptor and makes an open finding from it.
   * @throws DescriptorError when the descriptor is wrong: then the rule has failed
   */
  report(rule: ReportingRule, descriptor: ReportDescriptor, severity?: Severity): Finding;
}

/** Path of a rule's page inside the package: `cut/marginal` → `docs/rules/cut-marginal.md`. */
export function docsPath(rule: string): string {
  return `docs/rules/${rule.replaceAll('/', '-')}.md`;
}

/** All locations of a descriptor, for `gatherLines` to look up before it is reported. */
export function locationsOf(descriptor: ReportDescriptor): Location[] {
  return [descriptor.location, ...(descriptor.related ?? []).map((one) => ({ file: one.file, ...one.place }))];
}

/**
 * A reporter over looked-up lines. Fingerprints count occurrences over its life, so use one for a job: then a finding
 * keeps its fingerprint whichever other jobs are in the run.
 */
export function createReporter(lines: LineLookup): Reporter {
  const fingerprints = new Fingerprints();
  return {
    report(rule, descriptor, severity) {
      const message = phrase(rule, descriptor.messageId, descriptor.args);
      const { excerpt, text } = placeInFile(lines, descriptor.location);
      const related = (descriptor.related ?? []).map((one): Related => {
        const location = { file: one.file, ...one.place };
        const { text: there } = placeInFile(lines, location);
        return { ...widened(location, there), message: phrase(rule, one.messageId, one.args) };
      });
      const level = severity ?? descriptor.severity ?? rule.severity;
      if (!SEVERITIES.includes(level)) throw new DescriptorError(`it gave the severity "${String(level)}"`);
      const finding: Finding = {
        rule: rule.id,
        messageId: descriptor.messageId,
        severity: level,
        message,
        location: widened(descriptor.location, text),
        excerpt,
        related,
        hints: [...(descriptor.hints ?? [])],
        docs: docsPath(rule.id),
        fingerprint: fingerprints.next({
          rule: rule.id,
          messageId: descriptor.messageId,
          file: descriptor.location.file,
          subject: descriptor.subject ?? normalisedLine(text),
        }),
        status: 'open',
      };
      const told = rule.forCustomers?.[descriptor.messageId];
      if (told !== undefined) finding.values = pick(told, descriptor.args);
      if (descriptor.data !== undefined) finding.data = descriptor.data;
      return finding;
    },
  };
}

function phrase(rule: ReportingRule, messageId: string, args: ReportDescriptor['args']): string {
  const template = Object.hasOwn(rule.messages, messageId) ? rule.messages[messageId] : undefined;
  if (template === undefined) throw new DescriptorError(`it has no message "${messageId}"`);
  try {
    return renderMessage(template, args);
  } catch (error) {
    if (error instanceof MessageError) throw new DescriptorError(`message "${messageId}": ${error.message}`);
    throw error;
  }
}

function placeInFile(lines: LineLookup, location: Location): ReturnType<LineLookup['lookUp']> {
  const fault = (what: string) => new DescriptorError(`it pointed outside ${location.file}: ${what}`);
  if (!isPlace(location))
    throw fault(`${location.line}:${location.column} to ${location.endLine}:${location.endColumn}`);
  const answer = lines.lookUp(location);
  if (answer.outside !== null) throw fault(answer.outside);
  return answer;
}

function isPlace(place: Place): boolean {
  const { line, column, endLine, endColumn } = place;
  if (![line, column, endLine, endColumn].every((n) => Number.isInteger(n) && n >= 1)) return false;
  return endLine > line || (endLine === line && endColumn >= column);
}

/** A place without width at the start of a line means the line: it is widened to the line's text. */
function widened(location: Location, text: string): Location {
  const plain = plainLocation(location);
  const { line, column, endLine, endColumn } = plain;
  const end = text.trimEnd().length + 1;
  if (column !== 1 || endColumn !== 1 || line !== endLine || end === 1) return plain;
  return { ...plain, column: end - text.trim().length, endColumn: end };
}

/** Only the keys of a location, in one order, without whatever else the rule's object holds. */
function plainLocation({ file, line, column, endLine, endColumn }: Location): Location {
  return { file, line, column, endLine, endColumn };
}

/** @throws DescriptorError when one is missing */
function pick(names: readonly string[], args: ReportDescriptor['args']): Record<string, string | number> {
  return Object.fromEntries(
    names.map((name) => {
      const value = Object.hasOwn(args, name) ? args[name] : undefined;
      if (value === undefined)
        throw new DescriptorError(`the argument "${name}", which customers are told, is missing`);
      return [name, value];
    }),
  );
}
