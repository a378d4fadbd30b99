import { atStart } from '../units/sentence.ts';

/**
 * The line that closes all that kerflint says and prints: reports, charts and cards. The usual cautions of the trade, common practice; it
 * names what to keep to and who decides, and never judges that something may be done.
 */
export const CAUTION =
  "Never leave a running laser unattended; extraction on, extinguisher at hand, interlocks working. The material's safety data sheet, the machine's manual and local rules decide.";

/** What has to be known of a material before it lies under a beam. */
export interface CautionedMaterial {
  readonly name: string;
  readonly hazard: { readonly class: 'never' | 'reconsider' | 'extract' | 'usual'; readonly reason: string };
}

/**
 * What a material does under the beam, by its hazard class and the reason that its entry gives. One wording for everything that is
 * written for a machine or printed beside it: programs, drawings, results sheets, cards and charts. `CAUTION` belongs below it.
 * @param material null where nobody said what the sheet is.
 */
export function materialCaution(material: CautionedMaterial | null): string {
  if (material === null) return 'What this sheet gives off under the beam is not known: find out before it is cut.';
  const { name, hazard } = material;
  switch (hazard.class) {
    case 'never':
      return `${atStart(name)} must not be cut: ${hazard.reason}.`;
    case 'reconsider':
      return `Reconsider this material: ${hazard.reason}.`;
    case 'extract':
      return `${atStart(name)} asks for extraction: ${hazard.reason}.`;
    case 'usual':
      return `${atStart(name)} under the beam: ${hazard.reason}.`;
  }
}
