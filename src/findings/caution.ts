/**
 * The line that closes all that kerflint says and prints: reports, charts and cards. The usual cautions of the trade, common practice; it
 * names what to keep to and who decides, and never judges that something may be done.
 */
export const CAUTION =
  "Never leave a running laser unattended; extraction on, extinguisher at hand, interlocks working. The material's safety data sheet, the machine's manual and local rules decide.";
